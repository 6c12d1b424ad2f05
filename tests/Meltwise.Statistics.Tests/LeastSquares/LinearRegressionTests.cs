using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.LeastSquares;
using Xunit;

namespace Meltwise.Statistics.Tests.LeastSquares;

/// <summary>NIST StRD, linear regression, all eleven sets. Exact rational least squares on the stored doubles reaches 13.2 to 15 digits (attainable);
/// double arithmetic loses what the columns' condition takes: Filip's powers up to x^10 are nearly dependent, Wampler 4 and 5 have residuals 1e5 times the fit.</summary>
public sealed class LinearRegressionTests
{
    [Theory]
    [InlineData("Norris", 12.0)]
    [InlineData("Pontius", 11.0)]
    [InlineData("NoInt1", 14.0)]
    [InlineData("NoInt2", 14.0)]
    [InlineData("Filip", 6.5)]
    [InlineData("Longley", 10.5)]
    [InlineData("Wampler1", 8.5)]
    [InlineData("Wampler2", 11.5)]
    [InlineData("Wampler3", 8.5)]
    [InlineData("Wampler4", 7.0)]
    [InlineData("Wampler5", 5.5)]
    public void Coefficients_agree_with_the_certified_values(string set, double digits)
    {
        JsonElement nist = Nist.Read(set), certified = nist.GetProperty("certified");
        LinearFit fit = Fit(nist);
        double[] expected = certified.Numbers("estimates"), errors = certified.Numbers("standard_deviations");
        for (int j = 0; j < expected.Length; j++)
        {
            Digits.Agree(expected[j], fit.Coefficients[j], new(digits), $"B{j}");
            if (errors[j] > 0) Digits.Agree(errors[j], fit.StandardError(j), new(Math.Min(digits, 11)), $"standard deviation of B{j}");
        }
        if (certified.Number("residual_sd") > 0) Digits.Agree(certified.Number("residual_sd"), fit.Sigma, new(Math.Min(digits + 1, 11)), "residual standard deviation");
    }

    private static LinearFit Fit(JsonElement nist)
    {
        double[] y = nist.GetProperty("data").Numbers("y");
        double[][] x = [.. nist.GetProperty("data").GetProperty("x").EnumerateArray().Select(r => r.Numbers())];
        string model = nist.Text("model");
        List<double[]> columns = [];
        if (model.Contains("B0", StringComparison.Ordinal)) columns.Add([.. y.Select(_ => 1.0)]);
        if (model.Contains('^', StringComparison.Ordinal))
            for (int power = 1; model.Contains($"x^{power}", StringComparison.Ordinal); power++) columns.Add([.. x.Select(r => Power(r[0], power))]);
        else
            for (int j = 0; j < x[0].Length; j++) columns.Add([.. x.Select(r => r[j])]);
        return LinearRegression.Fit(y, columns, [.. columns.Select((_, j) => $"B{j}")]);
    }

    private static double Power(double x, int k)
    {
        double product = 1;
        for (int i = 0; i < k; i++) product *= x;
        return product;
    }
}
