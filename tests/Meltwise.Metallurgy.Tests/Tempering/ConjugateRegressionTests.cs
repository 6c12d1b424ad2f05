using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Metallurgy.Tempering;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Tempering;

public sealed class ConjugateRegressionTests
{
    [Fact] // NIST StRD Pontius, a quadratic: with a flat prior and x scaled by 1e6 the certified coefficients come back.
    public void With_a_flat_prior_it_is_the_certified_quadratic_of_Pontius()
    {
        using JsonDocument file = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Published", "nist-strd", "Pontius.json")));
        JsonElement root = file.RootElement;
        double[] y = [.. root.GetProperty("data").GetProperty("y").EnumerateArray().Select(e => e.GetDouble())];
        double[] x = [.. root.GetProperty("data").GetProperty("x").EnumerateArray().Select(e => e.ValueKind == JsonValueKind.Array ? e[0].GetDouble() : e.GetDouble())];
        double[] certified = [.. root.GetProperty("certified").GetProperty("estimates").EnumerateArray().Select(e => e.GetDouble())];
        double[] certifiedSd = [.. root.GetProperty("certified").GetProperty("standard_deviations").EnumerateArray().Select(e => e.GetDouble())];
        double[] scale = [1, 1e6, 1e12];
        ConjugateRegression fit = new([.. x.Select(v => (double[])[1, v / 1e6, v / 1e6 * (v / 1e6)])], y, [0, 0, 0], [1e6, 1e6, 1e6], 1e-3, 1e-9);
        double degrees = (double)(y.Length - 3) / y.Length; // certified standard deviations divide by n - 3, the posterior by its n degrees of freedom
        for (int i = 0; i < 3; i++)
        {
            Digits.Agree(certified[i], fit.Coefficient(i) / scale[i], new(8), $"B{i}");
            Digits.Agree(certifiedSd[i], fit.CoefficientSd(i) / scale[i] / Math.Sqrt(degrees), new(6), $"standard deviation of B{i}");
        }
    }
}
