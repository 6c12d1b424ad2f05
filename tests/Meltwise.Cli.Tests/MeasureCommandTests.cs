using System.Text.Json;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Cli.Tests;

/// <summary>The command contract of <c>measure</c>, on the made pictures of tests/Meltwise.Imaging.Tests.</summary>
public sealed class MeasureCommandTests : IDisposable
{
    private readonly MeltwiseProcess _meltwise = new();
    private readonly string _folder = Directory.CreateTempSubdirectory("measure").FullName;

    private static string Made(string name) => Path.Combine(Repository.Root, "tests", "Meltwise.Imaging.Tests", "Published", "made-micrographs", name);

    [Fact]
    public void A_measurement_bears_the_names_of_the_contract()
    {
        JsonElement result = _meltwise.Run("measure", Made("discs_af10.png"), "--scale", "0.1", "--json").Expect(0).Json();
        JsonElement image = result.GetProperty("images")[0];
        Assert.InRange(image.GetProperty("areaFraction").GetProperty("estimate").GetDouble(), image.GetProperty("areaFraction").GetProperty("lower").GetDouble(), image.GetProperty("areaFraction").GetProperty("upper").GetDouble());
        foreach (string name in new[] { "file", "count", "countInside", "perAreaMm2", "aspect", "clustering", "minimumDiameterUm", "inspectedAreaMm2" }) Assert.True(image.TryGetProperty(name, out _), name);
        foreach (string name in new[] { "mean", "median", "p95", "largest" }) Assert.True(image.GetProperty("diameterUm").GetProperty(name).GetDouble() > 0, name);
        Assert.Equal(image.GetProperty("count").GetInt32(), result.GetProperty("pooled").GetProperty("count").GetInt32());
    }

    [Fact]
    public void A_bar_that_is_read_gives_the_scale()
    {
        JsonElement image = _meltwise.Run("measure", Made("scalebar_corner.png"), "--json").Expect(0).Json().GetProperty("images")[0];
        Assert.Equal(0.125, image.GetProperty("scaleUm").GetDouble(), 1e-3);
        Assert.Contains("20 µm", image.GetProperty("scaleFrom").GetString(), StringComparison.Ordinal);
        JsonElement typed = _meltwise.Run("measure", Made("touching.png"), "--scale-bar", "50 um", "--scale-bar-ends", "100,40 300,40", "--json").Expect(0).Json().GetProperty("images")[0];
        Assert.Equal(0.25, typed.GetProperty("scaleUm").GetDouble(), 1e-9);
    }

    [Fact]
    public void Saved_settings_replay_areas_and_particles()
    {
        string[] first = ["measure", Made("discs_af10.png"), "--leave-out", "0,0,300,300: water stain", "--leave-out", "500,500 600,500 550,600: scratch", "--particles", "bright", "--out", _folder, "--json"];
        JsonElement one = _meltwise.Run(first).Expect(0).Json().GetProperty("images")[0];
        JsonElement two = _meltwise.Run("measure", Made("discs_af10.png"), "--settings", Path.Combine(_folder, "discs_af10-1-settings.json"), "--json").Expect(0).Json().GetProperty("images")[0];
        Assert.True(one.GetProperty("leftOutPixels").GetInt64() > 90_000);
        Assert.Equal(one.GetProperty("leftOutPixels").GetInt64(), two.GetProperty("leftOutPixels").GetInt64());
        Assert.Equal(one.GetProperty("areaFraction").GetProperty("estimate").GetDouble(), two.GetProperty("areaFraction").GetProperty("estimate").GetDouble(), 1e-4);
        Assert.Contains(one.GetProperty("notes").EnumerateArray(), n => n.GetString()!.Contains("water stain", StringComparison.Ordinal));
        Assert.Equal(one.GetProperty("count").GetInt32() + 1, File.ReadAllLines(Path.Combine(_folder, "discs_af10-1-particles.csv")).Length);
    }

    /// <summary>The two invented heats of made pictures differ by 15 % in area fraction by their truth (8.0 and 9.2 %), fields by 15 %: three fields of each cannot settle that against a margin of 5 %.</summary>
    [Fact]
    public void Two_heats_are_judged_against_the_margin()
    {
        string[] arguments = ["measure", Made("heatA_01.png"), Made("heatA_02.png"), Made("heatA_03.png"), "--against", Made("heatB_01.png"), Made("heatB_02.png"), Made("heatB_03.png"), "--scale", "0.1", "--margin", "5%", "--json"];
        Ending ending = _meltwise.Run(arguments).Expect(0);
        Assert.Equal(ending.Output, _meltwise.Run(arguments).Expect(0).Output);
        JsonElement result = ending.Json();
        Assert.Equal(1.05, result.GetProperty("marginHigh").GetDouble(), 1e-12);
        JsonElement[] quantities = [.. result.GetProperty("quantities").EnumerateArray()];
        Assert.Equal(5, quantities.Length);
        JsonElement fraction = quantities.Single(q => q.GetProperty("name").GetString() == "area fraction");
        Assert.Equal("inconclusive", fraction.GetProperty("outcome").GetString());
        Assert.True(fraction.GetProperty("ratioWide").GetProperty("lower").GetDouble() < fraction.GetProperty("ratioForMargin").GetProperty("lower").GetDouble());
        Assert.Equal([0, 1, 2, 3, 4, 5], result.GetProperty("order").EnumerateArray().Select(o => o.GetInt32()).Order());
        Assert.Contains("Pictures of two heats", _meltwise.Run(arguments[..^1]).Expect(0).Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Mounts_are_taken_from_names_and_folders()
    {
        string[] files = [Made("heatA_01.png"), Made("heatA_02.png"), Made("heatB_01.png"), Made("heatB_02.png")];
        JsonElement pooled = _meltwise.Run(["measure", .. files, "--mounts", "name", "--json"]).Expect(0).Json().GetProperty("pooled");
        Assert.Equal(2, pooled.GetProperty("mounts").GetProperty("mounts").GetInt32());
        Assert.False(_meltwise.Run(["measure", .. files, "--mounts", "folder", "--json"]).Expect(0).Json().GetProperty("pooled").TryGetProperty("mounts", out _));
    }

    [Theory]
    [InlineData(2, "--leave-out", "1,2,3")]
    [InlineData(2, "--leave-out", "1,2,3,4")]
    [InlineData(2, "--scale-bar", "wide")]
    [InlineData(2, "--scale-bar-ends", "1,2 3,4")]
    [InlineData(2, "--margin", "10%")]
    [InlineData(2, "--scale", "-1")]
    [InlineData(2, "--minimum", "0")]
    [InlineData(1, "--settings", "absent.json")]
    [InlineData(1, "--leave-out", "0,0,99999,99999: all")]
    public void What_cannot_be_is_a_fault(int status, string option, string value) =>
        Assert.DoesNotContain("Exception", _meltwise.Run("measure", Made("touching.png"), option, value).Expect(status).Messages, StringComparison.Ordinal);

    [Fact]
    public void One_field_of_a_heat_is_a_refusal() => _meltwise.Run("measure", Made("heatA_01.png"), Made("heatA_02.png"), "--against", Made("heatB_01.png")).Expect(3);

    public void Dispose()
    {
        Directory.Delete(_folder, recursive: true);
        _meltwise.Dispose();
    }
}
