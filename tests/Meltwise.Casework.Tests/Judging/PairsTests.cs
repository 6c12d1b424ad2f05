using Meltwise.Casework.Judging;
using Meltwise.Evidence;
using Meltwise.Statistics.MetaAnalysis;
using Xunit;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>Question D: the pairs of locked enquiries. The mean itself is held by RandomEffectsMeanTests against metafor; here what enters it, and what is given when it has no meaning.</summary>
public sealed class PairsTests
{
    private static EarlierPair Pair(string name, double logRatio, string candidate = "R", string reference = "P", string candidateHeat = "", string referenceHeat = "") =>
        new(name, candidate, reference, candidateHeat.Length > 0 ? candidateHeat : "c" + name, referenceHeat.Length > 0 ? referenceHeat : "r" + name, logRatio, 0.004, 0.002, 0.002, true);

    [Fact]
    public void Independent_pairs_of_one_orientation_are_the_random_effects_mean()
    {
        Verdict verdict = Judge(Pair("E1", -0.02), Pair("E2", 0.15), Pair("E3", -0.21), Pair("E4", 0.05));
        EstimandResult own = verdict.AsTested!;
        RandomEffectsResult expected = RandomEffectsMean.Fit([-0.02, 0.15, -0.21, 0.05, own.LogRatio!.Value], [0.004, 0.004, 0.004, 0.004, own.StandardError!.Value * own.StandardError.Value]);
        AllPairs pairs = verdict.Pairs!;
        Assert.True(pairs.OneOrientation);
        Assert.Equal(5, pairs.Count);
        Digits.Agree(Math.Exp(expected.Mean), pairs.Mean!.Estimate, new(8), "mean");
        Digits.Agree(Math.Exp(expected.Interval.Lower), pairs.Mean.Lower, new(7), "lower limit");
        // The four pairs and the fifth of the oracle case, in R: reference prior, dense matrices, adaptive quadrature (tests/Meltwise.Statistics.Tests/Oracles/statistics/correlated_effects.R).
        Digits.Agree(Math.Exp(-0.383414792911), pairs.Prediction!.Lower, new(7), "next pair, lower limit");
        Digits.Agree(Math.Exp(0.382161588781), pairs.Prediction.Upper, new(7), "next pair, upper limit");
        Digits.Agree(Math.Sqrt(expected.TauSquared), pairs.Tau, new(7), "spread");
    }

    [Fact]
    public void A_pair_the_other_way_round_is_turned()
    {
        Verdict straight = Judge(Pair("E1", -0.02), Pair("E2", 0.15)), turned = Judge(Pair("E1", -0.02), Pair("E2", -0.15, "P", "R"));
        Digits.Agree(straight.Pairs!.Mean!.Estimate, turned.Pairs!.Mean!.Estimate, new(12), "mean");
    }

    [Fact]
    public void Pairs_of_different_sources_have_a_spread_but_no_mean()
    {
        AllPairs pairs = Judge(Pair("E1", -0.02), Pair("E2", 0.15, "S", "Q"), Pair("E3", -0.40)).Pairs!;
        Assert.False(pairs.OneOrientation);
        Assert.Null(pairs.Mean);
        Assert.NotNull(pairs.Tau);
        Assert.Equal(3 / 4.0, pairs.ShareInsideMargin);
    }

    [Fact]
    public void Pairs_of_the_same_two_routes_have_a_mean_and_are_turned_to_this_one()
    {
        EarlierPair Routed(string name, double logRatio, string source, string candidate, string reference) =>
            Pair(name, logRatio, source) with { CandidateRoute = candidate, ReferenceRoute = reference };
        (string? orientation, List<EarlierPair> pairs) = PairOrientation.Of([Routed("E1", 0.1, "S", "powder", "ingot"), Routed("E2", -0.2, "T", "ingot", "powder"), Routed("E3", 0.3, "V", "powder", "ingot")]);
        Assert.Equal("powder over ingot", orientation);
        Assert.Equal([0.1, 0.2, 0.3], pairs.Select(p => p.LogRatio));
        Assert.Null(PairOrientation.Of([Routed("E1", 0.1, "S", "powder", "powder"), Routed("E2", 0.2, "T", "powder", "powder")]).Orientation);
    }

    [Fact]
    public void A_newcomer_against_an_incumbent_is_an_orientation_of_its_own()
    {
        EarlierPair Met(string name, double logRatio, string candidate, bool? candidateIsNew, bool? referenceIsNew) =>
            Pair(name, logRatio, candidate) with { CandidateIsNewcomer = candidateIsNew, ReferenceIsNewcomer = referenceIsNew };
        EarlierPair last = Met("E3", 0.3, "V", true, false);
        (string? orientation, List<EarlierPair> pairs) = PairOrientation.Of([Met("E1", -0.1, "S", false, true), last]);
        Assert.Equal("newcomer over incumbent", orientation);
        Assert.Equal([0.1, 0.3], pairs.Select(p => p.LogRatio));
        Assert.Equal(("P", "S"), (pairs[0].CandidateSource, pairs[0].ReferenceSource));
        Assert.Null(PairOrientation.Of([Met("E1", -0.1, "S", true, true), last]).Orientation);
        Assert.Null(PairOrientation.Of([Met("E1", -0.1, "S", null, false), last]).Orientation);
    }

    // The mean of three new sources against the incumbent is the random-effects mean of their effects; before, such pairs had none.
    [Fact]
    public void Newcomers_are_seen_from_the_history_of_the_bench()
    {
        ComparisonInput input = Coupons.Input([.. Coupons.Lot("K17", [18.2, 21.0, 19.4, 23.1]), .. Coupons.Lot("M03", [16.9, 19.8, 18.0, 20.6])]) with
        {
            History = Coupons.Table([.. Coupons.Lot("K11", [20.1, 19.2]), .. Coupons.Lot("K12", [21.1, 18.2])]),
            Standing = new RuleStanding.Locked(DateTime.UnixEpoch, new string('0', 64)),
            EarlierPairs = [Pair("E1", -0.02, "S") with { CandidateIsNewcomer = true, ReferenceIsNewcomer = false }, Pair("E2", 0.15, "P", "T") with { CandidateIsNewcomer = false, ReferenceIsNewcomer = true }],
        };
        Verdict verdict = Comparison.Judge(input, TestContext.Current.CancellationToken);
        Assert.Equal([2, 0], verdict.Lots.Select(l => l.OtherHeatsOfSource));
        Assert.Equal("newcomer over incumbent", verdict.Pairs!.Orientation);
        EstimandResult own = verdict.AsTested!;
        RandomEffectsResult expected = RandomEffectsMean.Fit([-0.02, -0.15, own.LogRatio!.Value], [0.004, 0.004, own.StandardError!.Value * own.StandardError.Value]);
        Digits.Agree(Math.Exp(expected.Mean), verdict.Pairs.Mean!.Estimate, new(7), "mean");
    }

    // A reference lot that three enquiries share: its error is one error, and the mean is less certain than three independent pairs would make it.
    [Fact]
    public void A_shared_lot_is_not_counted_three_times()
    {
        double alone = Width(Judge(Pair("E1", 0.02), Pair("E2", 0.02), Pair("E3", 0.02))), shared = Width(Judge(Pair("E1", 0.02, referenceHeat: "K1"), Pair("E2", 0.02, referenceHeat: "K1"), Pair("E3", 0.02, referenceHeat: "K1")));
        Assert.True(shared > 1.1 * alone, $"{shared} against {alone}");

        static double Width(Verdict v) => Math.Log(v.Pairs!.Mean!.Upper / v.Pairs.Mean.Lower);
    }

    [Fact]
    public void Two_pairs_are_listed_only()
    {
        AllPairs pairs = Judge(Pair("E1", 0.1)).Pairs!;
        Assert.Equal(2, pairs.Count);
        Assert.Null(pairs.Tau);
        Assert.NotEmpty(pairs.Notes);
    }

    [Fact]
    public void An_unlocked_enquiry_does_not_join() => Assert.Equal(1, Comparison.Judge(
        OracleCases.Input(OracleCases.Case("equivalent")) with { Standing = new RuleStanding.Unlocked(), EarlierPairs = [Pair("E1", 0.1)] }, TestContext.Current.CancellationToken).Pairs!.Count);

    private static Verdict Judge(params EarlierPair[] earlier) => Comparison.Judge(
        OracleCases.Input(OracleCases.Case("equivalent")) with { Standing = new RuleStanding.Locked(DateTime.UnixEpoch, new string('0', 64)), EarlierPairs = earlier }, TestContext.Current.CancellationToken);
}
