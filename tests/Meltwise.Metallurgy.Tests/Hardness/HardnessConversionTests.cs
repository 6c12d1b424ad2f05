using CsCheck;
using Meltwise.Metallurgy.Hardness;
using Meltwise.Metallurgy.Sources;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Hardness;

public sealed class HardnessConversionTests
{
    // ASTM E140 Table 1 and 2, rows from memory; 38 HRC = 353 HBW was read in text of the standard.
    [Theory]
    [InlineData(38, HardnessScale.HRC, HardnessScale.HBW, 353)]
    [InlineData(60, HardnessScale.HRC, HardnessScale.HV, 697)]
    [InlineData(697, HardnessScale.HV, HardnessScale.HRC, 60)]
    [InlineData(60, HardnessScale.HRC, HardnessScale.HRA, 81.2)]
    [InlineData(64, HardnessScale.HRC, HardnessScale.HV, 800)]
    [InlineData(20, HardnessScale.HRC, HardnessScale.HV, 238)]
    [InlineData(90, HardnessScale.HRB, HardnessScale.HV, 185)]
    [InlineData(210, HardnessScale.HBW, HardnessScale.HRB, 95)]
    public void Rows_of_the_standard_come_back_exactly(double value, HardnessScale from, HardnessScale to, double expected) =>
        Assert.Equal(expected, HardnessConversion.Convert(value, from, to).Value, 1e-9);

    [Fact] // Half way between the rows 697 (60 HRC) and 720 (61 HRC).
    public void Between_rows_it_is_a_straight_line() =>
        Assert.Equal(60.5, HardnessConversion.Convert(708.5, HardnessScale.HV, HardnessScale.HRC).Value, 1e-9);

    [Fact]
    public void A_conversion_names_its_table_and_what_was_measured()
    {
        ConvertedHardness c = HardnessConversion.Convert(746, HardnessScale.HV, HardnessScale.HRC);
        Assert.Equal("62.0 HRC (converted from 746 HV, ASTM E140 Table 1)", c.ToString());
        Assert.Equal(SourceStatus.FromMemory, c.Source.Status);
        Assert.Contains("Not a measurement", Assert.Single(c.Notes), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(69, HardnessScale.HRC, HardnessScale.HV)]
    [InlineData(19.9, HardnessScale.HRC, HardnessScale.HRA)]
    [InlineData(66, HardnessScale.HRC, HardnessScale.HBW)]
    [InlineData(54, HardnessScale.HRB, HardnessScale.HV)]
    [InlineData(double.NaN, HardnessScale.HV, HardnessScale.HRC)]
    public void Beyond_the_table_it_refuses_and_names_the_range(double value, HardnessScale from, HardnessScale to)
    {
        OutsideModelRangeException refused = Assert.Throws<OutsideModelRangeException>(() => HardnessConversion.Convert(value, from, to));
        Assert.Contains("ASTM E140", refused.Message, StringComparison.Ordinal);
        Assert.True(refused.Lowest < refused.Highest);
    }

    [Fact]
    public void Rockwell_B_and_C_are_never_chained() =>
        Assert.Contains("not chained", Assert.Throws<ArgumentException>(() => HardnessConversion.Convert(98, HardnessScale.HRB, HardnessScale.HRC)).Message, StringComparison.Ordinal);

    [Fact]
    public void There_and_back_is_the_same_value() => Gen.Double[20, 68].Sample(hrc =>
        Math.Abs(HardnessConversion.Convert(HardnessConversion.Convert(hrc, HardnessScale.HRC, HardnessScale.HV).Value, HardnessScale.HV, HardnessScale.HRC).Value - hrc) < 1e-9);

    [Fact]
    public void The_quick_form_equals_the_explained_form() => Gen.Double[238, 940].Sample(hv =>
        Math.Abs(HardnessConversion.HrcOfVickers(hv) - HardnessConversion.Convert(hv, HardnessScale.HV, HardnessScale.HRC).Value) < 1e-9);
}
