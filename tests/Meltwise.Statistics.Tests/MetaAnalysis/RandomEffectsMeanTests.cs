using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.MetaAnalysis;
using Xunit;

namespace Meltwise.Statistics.Tests.MetaAnalysis;

/// <summary>Oracles/statistics/meta.json: scalar roots in R, checked with a general meta-analysis package; about 12 digits.</summary>
public sealed class RandomEffectsMeanTests
{
    private static readonly JsonElement s_sets = Oracle.Read("meta.json").GetProperty("sets");

    public static TheoryData<string> Sets => ["bcg", "raudenbush1985", "normand1999", "hackshaw1998", "ccqm_k30", "comparisons", "small_homogeneous"];

    private static readonly (string Key, HeterogeneityEstimator Estimator)[] s_estimators =
    [
        ("REML", HeterogeneityEstimator.Restricted), ("ML", HeterogeneityEstimator.MaximumLikelihood), ("DL", HeterogeneityEstimator.DerSimonianLaird),
        ("PM", HeterogeneityEstimator.PauleMandel), ("HS", HeterogeneityEstimator.HunterSchmidt), ("SJ", HeterogeneityEstimator.SidikJonkman), ("HE", HeterogeneityEstimator.Hedges),
    ];

    [Theory]
    [MemberData(nameof(Sets))]
    public void Every_estimator_agrees(string id)
    {
        JsonElement set = s_sets.GetProperty(id);
        double[] y = set.Numbers("yi"), v = set.Numbers("vi");
        foreach ((string key, HeterogeneityEstimator estimator) in s_estimators)
        {
            JsonElement e = set.GetProperty(key), hk = e.GetProperty("hartung_knapp");
            RandomEffectsResult plain = RandomEffectsMean.Fit(y, v, estimator, truncated: false), kept = RandomEffectsMean.Fit(y, v, estimator);
            Assert.Equal(e.Number("tau2"), plain.TauSquared, 1e-9 * (e.Number("tau2") + v.Average()));
            Digits.Agree(e.Number("estimate"), plain.Mean, new(9), key + " mean");
            Digits.Agree(e.Number("se"), plain.NormalStandardError, new(9), key + " se");
            Digits.Agree(hk.Number("se"), plain.StandardError, new(8), key + " Hartung-Knapp");
            Digits.Agree(hk.Number("p"), plain.P, new(7), key + " p");
            Digits.Agree(hk.Number("se_truncated_at_1"), kept.StandardError, new(8), key + " truncated");
            Pair(hk, "ci95", plain.Interval);
            Pair(hk, "ci95_truncated", kept.Interval);
            Pair(e, "prediction_interval95_hk_t_kminus1", plain.PredictionInterval);
            if (estimator != HeterogeneityEstimator.PauleMandel)
                Assert.Equal(e.Number("I2_metafor") / 100, plain.ISquared, 1e-6);
        }
    }

    [Theory]
    [MemberData(nameof(Sets))]
    public void Heterogeneity_interval_and_leave_one_out_agree(string id)
    {
        JsonElement set = s_sets.GetProperty(id), left = set.GetProperty("leave_one_out_reml");
        double[] y = set.Numbers("yi"), v = set.Numbers("vi"), interval = set.Numbers("tau2_ci95_q_profile");
        RandomEffectsResult fit = RandomEffectsMean.Fit(y, v);
        Assert.Equal(interval[0], fit.TauSquaredInterval.Lower, 1e-8 * interval[1]);
        Assert.Equal(interval[1], fit.TauSquaredInterval.Upper, 1e-8 * interval[1]);
        Digits.Agree(set.GetProperty("fixed").Number("Q"), fit.Q, new(10), "Q");
        // The package stops its scoring at 1e-5 in τ², which in the small unit of ccqm_k30 leaves its leave-one-out means a hundredth of a standard error.
        IReadOnlyList<RandomEffectsResult> ours = RandomEffectsMean.LeaveOneOut(y, v);
        for (int i = 0; i < y.Length; i++)
            Assert.Equal(left.Numbers("estimate")[i], ours[i].Mean, 1e-2 * ours[i].NormalStandardError);
    }

    // Viechtbauer (2010), J. Stat. Softw. 36(3), as printed: 13 trials of a vaccine.
    [Fact]
    public void Thirteen_trials_as_printed()
    {
        JsonElement set = s_sets.GetProperty("bcg");
        RandomEffectsResult fit = RandomEffectsMean.Fit(set.Numbers("yi"), set.Numbers("vi"));
        new Published("-0.7145").Agrees(fit.Mean, "mean");
        new Published("0.1798").Agrees(fit.NormalStandardError, "standard error");
        new Published("0.3132").Agrees(fit.TauSquared, "tau squared");
        new Published("152.2330").Agrees(fit.Q, "Q");
    }

    [Fact]
    public void Few_comparisons_are_said() => Assert.Contains("Only 3 comparisons", RandomEffectsMean.Fit([0.1, 0.2, 0.3], [0.01, 0.01, 0.01]).Notes[0], StringComparison.Ordinal);

    private static void Pair(JsonElement e, string name, (double Lower, double Upper) ours)
    {
        double[] expected = e.Numbers(name);
        double scale = expected[1] - expected[0];
        Assert.Equal(expected[0], ours.Lower, 1e-8 * scale);
        Assert.Equal(expected[1], ours.Upper, 1e-8 * scale);
    }
}
