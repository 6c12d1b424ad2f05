using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Robust;
using Xunit;

namespace Meltwise.Statistics.Tests.Robust;

/// <summary>Oracles/statistics/robust.json; also Venables and Ripley (2002), Modern Applied Statistics with S, 5.5: abbey 11.73 and 5.258.</summary>
public sealed class RobustLocationTests
{
    private static readonly JsonElement s_oracle = Oracle.Read("robust.json");

    [Theory]
    [InlineData("abbey")]
    [InlineData("chem")]
    [InlineData("two_heats_A")]
    public void Location_and_scale_agree(string set)
    {
        JsonElement e = s_oracle.GetProperty(set);
        double[] x = e.Numbers("x");
        Digits.Agree(e.Number("median"), RobustLocation.Median(x), new(14), "median");
        Digits.Agree(e.Number("mad_scaled_1.4826"), RobustLocation.Mad(x), new(13), "MAD");
        (double mu, double s) = RobustLocation.HuberProposal2(x);
        Digits.Agree(e.GetProperty("huber_proposal2_k1.5").Number("mu"), mu, new(9), "Huber location");
        Digits.Agree(e.GetProperty("huber_proposal2_k1.5").Number("s"), s, new(9), "Huber scale");
        (double mean, double sd) = RobustLocation.AlgorithmA(x);
        Digits.Agree(e.GetProperty("algorithm_A_iso13528").Number("mean"), mean, new(9), "algorithm A mean");
        Digits.Agree(e.GetProperty("algorithm_A_iso13528").Number("sd"), sd, new(9), "algorithm A standard deviation");
    }
}
