using System.Globalization;
using System.Text.Json;
using Meltwise.Imaging.Stereology;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Against a plain solution by numpy (Oracles/scikit-image/reference_schwartz_saltykov.json) and against the populations that the sections were cut from (Published/made-micrographs/sections_*).</summary>
public sealed class SaltykovUnfoldingTests
{
    [Theory]
    [InlineData("lognormal", 8)]
    [InlineData("lognormal", 12)]
    [InlineData("single", 12)]
    [InlineData("two_mode", 20)]
    public void Classes_agree_with_the_plain_solution(string population, int classes)
    {
        JsonElement oracle = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Oracles", "scikit-image", "reference_schwartz_saltykov.json")))
            .RootElement.GetProperty("list_" + population).GetProperty("unfolded").GetProperty(classes.ToString(CultureInfo.InvariantCulture));
        SizeDistribution unfolded = SaltykovUnfolding.Unfold(Sections(population), 1, classes);
        double scale = unfolded.PerVolume.Max();
        foreach ((JsonElement expected, double actual) in oracle.GetProperty("N_V_per_um3").EnumerateArray().Zip(unfolded.PerVolume))
            Assert.Equal(expected.GetDouble(), actual, 1e-9 * scale);
        Assert.Equal(oracle.GetProperty("mean_D_upper_um").GetDouble(), unfolded.MeanDiameter, 1e-9);
        Assert.Equal(oracle.GetProperty("sd_D_upper_um").GetDouble(), unfolded.DiameterDeviation, 1e-9);
    }

    /// <summary>Mean diameter of the population to 6 %: a class is a twentieth of the largest diameter and counts at its upper limit.</summary>
    [Theory]
    [InlineData("lognormal", 0.06)]
    [InlineData("single", 0.06)]
    [InlineData("two_mode", 0.08)]
    public void The_smoothed_solution_recovers_the_mean_and_has_no_negative_class(string population, double tolerance)
    {
        JsonElement truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(LabelPicture.Folder("made-micrographs"), $"sections_{population}.json"))).RootElement;
        SizeDistribution unfolded = SmoothedUnfolding.Unfold(Sections(population), 1);
        Assert.All(unfolded.PerVolume, v => Assert.True(v >= 0));
        double mean = truth.GetProperty("mean_D").GetDouble();
        Assert.Equal(mean, unfolded.MeanDiameter, tolerance * mean);
    }

    /// <summary>Scatter of the classes over halves of the list stays within what the stated errors allow.</summary>
    [Fact]
    public void Errors_cover_the_difference_of_two_halves()
    {
        double[] all = Sections("lognormal"), even = [.. all.Where((_, i) => i % 2 == 0)], odd = [.. all.Where((_, i) => i % 2 == 1)];
        SizeDistribution a = SaltykovUnfolding.Unfold([.. even, all.Max()], 0.5), b = SaltykovUnfolding.Unfold([.. odd, all.Max()], 0.5);
        double[] z = [.. a.PerVolume.Select((v, i) => (v - b.PerVolume[i]) / Math.Sqrt(a.StandardError[i] * a.StandardError[i] + b.StandardError[i] * b.StandardError[i])).Where(double.IsFinite)];
        Assert.True(z.Length >= 10);
        Assert.InRange(z.Average(v => v * v), 0.1, 2.5);
    }

    [Fact]
    public void Diameters_must_be_positive() => Assert.Throws<ArgumentException>(() => SaltykovUnfolding.Unfold([1, 0], 1));

    private static double[] Sections(string population)
    {
        string[] lines = File.ReadAllLines(Path.Combine(LabelPicture.Folder("made-micrographs"), "sections_20000.csv"));
        int column = Array.IndexOf(lines[0].Split(','), population + "_um");
        return [.. lines.Skip(1).Select(l => double.Parse(l.Split(',')[column], CultureInfo.InvariantCulture))];
    }
}
