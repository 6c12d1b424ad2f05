using System.Text.Json;
using Meltwise.Imaging.Stereology;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Largest particle of 24 fields against SciPy's likelihood fit and the E2283 standard error (Oracles/scikit-image/reference_e2283.json).</summary>
public sealed class LargestParticleTests
{
    [Theory]
    [InlineData("heatA")]
    [InlineData("heatB")]
    public void The_expected_largest_agrees_with_SciPy(string heat)
    {
        JsonElement oracle = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Oracles", "scikit-image", "reference_e2283.json")))
            .RootElement.GetProperty(heat).GetProperty("truth_max_ecd");
        double[] largest = [.. oracle.GetProperty("sorted_um").EnumerateArray().Select(v => v.GetDouble())];
        LargestEstimate found = LargestParticle.Expect(largest, 0.0025, 2.5);
        Assert.Equal(1000, found.ReturnPeriod, 1e-9);
        // The oracle's maxima are printed to 0.0001 and its search stops at 1e-10.
        Assert.Equal(oracle.GetProperty("ml").GetProperty("lam").GetDouble(), found.Fit.Location, 1e-4);
        Assert.Equal(oracle.GetProperty("ml").GetProperty("delta").GetDouble(), found.Fit.Scale, 1e-4);
        Assert.Equal(oracle.GetProperty("L_max").GetDouble(), found.ExpectedUm.Estimate, 1e-3);
        // The standard's constants 1.109, 0.514 and 0.608 are rounded to three digits.
        Assert.Equal(oracle.GetProperty("se").GetDouble(), (found.ExpectedUm.Upper!.Value - found.ExpectedUm.Estimate) / 2, 2e-3);
        Assert.Equal(largest.Max(), found.SeenUm);
    }

    [Fact]
    public void Fields_without_a_scale_are_refused()
    {
        PictureResult field = Measured.Picture(MadePicture.Read("touching").Path);
        Assert.Contains("touching.png", Assert.Throws<ArgumentException>(() => LargestParticle.Expect([.. Enumerable.Repeat(field, 6)], 10)).Message, StringComparison.Ordinal);
    }
}
