using Meltwise.Casework.Studying;
using Xunit;

namespace Meltwise.Casework.Tests.Studying;

public sealed class LevelScaleTests
{
    private static readonly string[] s_levels = ["low", "middle", "high"];

    [Theory]
    [InlineData("520 | 540 | 580 °C", "°C", 580)]
    [InlineData("520; 540; 580", null, 580)]
    [InlineData("520,540,580", null, 580)]
    [InlineData("0,5 | 1 | 2,5 h", "h", 2.5)]
    [InlineData("20°C; −80°C; −196°C", "°C", -196)]
    [InlineData("1e-3 | 1e-2 | 1e-1", null, 0.1)]
    public void Values_are_read_as_they_are_written(string text, string? unit, double last)
    {
        LevelScale scale = LevelScale.Read(text, s_levels);
        Assert.Equal((unit, last), (scale.Unit, scale.Values[^1]));
        Assert.Equal(scale.Values, LevelScale.Read(scale.ToString(), s_levels).Values);
    }

    [Theory]
    [InlineData("520 | 540", "3 levels")]
    [InlineData("520 | 540 | hot", "“hot” is no value")]
    [InlineData("520 | 540 | 540", "middle and high have the same value 540")]
    [InlineData("520 | 580 | 540", "neither rise nor fall")]
    [InlineData("520 °C | 540 K | 580 °C", "in one unit")]
    [InlineData("520 | 540 | NaN", "is no value")]
    [InlineData("520 | 540 | 1e999", "is no value")]
    public void What_is_no_scale_is_said(string text, string said) => Assert.Contains(said, Assert.Throws<StudyFaultException>(() => LevelScale.Read(text, s_levels)).Message, StringComparison.Ordinal);

    [Fact]
    public void Values_without_levels_are_refused() => Assert.Contains("name the levels", Assert.Throws<StudyFaultException>(() => LevelScale.Read("1 | 2", [])).Message, StringComparison.Ordinal);

    [Fact]
    public void Names_that_hold_one_number_each_tell_the_values()
    {
        Assert.Equal([520.0, 540.0, 580.0], LevelScale.Told(["temper 520 °C", "temper 540 °C", "temper 580 °C"])!.Values);
        Assert.Null(LevelScale.Told(["2 × 540 °C", "3 × 540 °C"]));
        Assert.Null(LevelScale.Told(s_levels));
        Assert.Null(LevelScale.Told(["520", "580", "540"]));
    }
}
