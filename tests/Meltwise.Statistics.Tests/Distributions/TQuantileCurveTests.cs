using Meltwise.Evidence;
using Meltwise.Statistics.Distributions;
using Xunit;

namespace Meltwise.Statistics.Tests.Distributions;

public sealed class TQuantileCurveTests
{
    // Against the exact quantile, itself checked against 20-digit values in DistributionOracleTests.
    [Theory]
    [InlineData(0.95)]
    [InlineData(0.975)]
    [InlineData(0.9875)]
    public void Agrees_with_the_exact_quantile_at_any_degrees_of_freedom(double p)
    {
        TQuantileCurve curve = new(p);
        foreach (double nu in (double[])[1, 1.7, 2, 2.31, 3.9, 4, 7.77, 8, 15.5, 16, 31, 250.3, 1e6])
            Digits.Agree(StudentT.Quantile(p, nu), curve.At(nu), new(9), $"ν = {nu}");
    }
}
