using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.LeastSquares;
using Xunit;

namespace Meltwise.Statistics.Tests.LeastSquares;

/// <summary>NIST StRD, univariate summary statistics. Digits asked for: what exact rational arithmetic reaches on the stored doubles, less 0.3, and no more than 14.</summary>
public sealed class UnivariateTests
{
    [Theory]
    [InlineData("Lew", 14.0, 14.0)]
    [InlineData("Lottery", 14.0, 14.0)]
    [InlineData("Mavro", 12.8, 13.5)]
    [InlineData("Michelso", 13.4, 13.0)]
    [InlineData("NumAcc1", 15.0, 14.0)]
    [InlineData("NumAcc2", 14.0, 14.0)]
    [InlineData("NumAcc3", 9.2, 11.8)]
    [InlineData("NumAcc4", 8.0, 10.7)]
    public void Agrees_with_the_certified_values(string set, double sd, double correlation)
    {
        JsonElement nist = Nist.Read(set), certified = nist.GetProperty("certified");
        (double mean, double deviation, double lag) = Univariate.Of(nist.GetProperty("data").Numbers("y"));
        Digits.Agree(certified.Number("mean"), mean, new(14), "mean");
        Digits.Agree(certified.Number("sd_n_minus_1"), deviation, new(sd), "standard deviation");
        Digits.Agree(certified.Number("lag1_autocorrelation"), lag, new(correlation), "autocorrelation");
    }
}
