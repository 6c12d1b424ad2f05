using CsCheck;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>Laws of the verdict on random lots and the wide history of the oracle.</summary>
public sealed class InvarianceTests
{
    private static readonly Gen<double[]> s_lot = Gen.Double[15, 90].Select(v => Math.Round(v, 1)).Array[4, 9];
    private static readonly Gen<(double[] Reference, double[] Candidate)> s_lots = Gen.Select(s_lot, s_lot);

    [Fact]
    public void Swapped_roles_invert_every_ratio() => s_lots.Sample(lots =>
    {
        ComparisonInput input = Input(lots), swapped = input with { ReferenceHeats = input.CandidateHeats, CandidateHeats = input.ReferenceHeats };
        Verdict a = Judge(input), b = Judge(swapped);
        foreach ((EstimandResult x, EstimandResult y) in new (EstimandResult, EstimandResult)[] { (a.AsTested!, b.AsTested!), (a.EqualHardness!, b.EqualHardness!), (a.Sources!, b.Sources!) })
        {
            Assert.Equal(x.Ratio!.Estimate, 1 / y.Ratio!.Estimate, 1e-9 * x.Ratio.Estimate);
            Assert.Equal(x.Ratio.Lower, 1 / y.Ratio.Upper, 1e-8 * x.Ratio.Lower);
            Assert.Equal(x.RatioForMargin!.Upper, 1 / y.RatioForMargin!.Lower, 1e-8 * x.RatioForMargin.Upper);
            Assert.Equal(Mirror(x.Outcome!.Value), y.Outcome);
        }
    }, iter: 60);

    [Fact]
    public void Change_of_unit_changes_nothing() => s_lots.Sample(lots =>
    {
        ComparisonInput joules = Input(lots), foot = joules with { Lots = InFootPounds(joules.Lots), History = InFootPounds(joules.History!) };
        Verdict a = Judge(joules), b = Judge(foot);
        Assert.Equal(a.AsTested!.Ratio!.Lower, b.AsTested!.Ratio!.Lower, 1e-10);
        Assert.Equal(a.EqualHardness!.Ratio!.Upper, b.EqualHardness!.Ratio!.Upper, 1e-9);
        Assert.Equal(a.Sources!.Ratio!.Upper, b.Sources!.Ratio!.Upper, 1e-8);
        Assert.Equal(a.EqualHardness.PerHrc!.Estimate, b.EqualHardness.PerHrc!.Estimate * PropertyTable.JoulesPerFootPound, 1e-8);
        Assert.Equal(a.Finding.Outcome, b.Finding.Outcome);
        Assert.Equal(a.Variants!.Agree, b.Variants!.Agree);
    }, iter: 40);

    [Fact]
    public void Order_of_rows_changes_not_a_single_digit() => Gen.Select(s_lots, Gen.Int[0, 1000]).Sample((lots, seed) =>
    {
        ComparisonInput input = Input(lots);
        Random random = new(seed);
        CouponRow[] mixed = [.. input.Lots.Rows], history = [.. input.History!.Rows];
        random.Shuffle(mixed);
        random.Shuffle(history);
        ComparisonInput other = input with { Lots = input.Lots with { Rows = mixed }, History = input.History with { Rows = history } };
        Assert.Equal(VerdictJson.Write(Judge(input)), VerdictJson.Write(Judge(other)));
    }, iter: 40);

    [Fact]
    public void A_verdict_reads_back_as_it_was_written() => s_lots.Sample(lots =>
    {
        string json = VerdictJson.Write(Judge(Input(lots)));
        Assert.Equal(json, VerdictJson.Write(VerdictJson.Read(json)));
    }, iter: 20);

    // Every coupon twice as tough in both lots: the ratio is the same, and so is the outcome.
    [Fact]
    public void A_common_factor_leaves_the_ratio() => s_lots.Sample(lots =>
    {
        Verdict a = Judge(Bare(lots)), b = Judge(Bare(([.. lots.Reference.Select(v => 2 * v)], [.. lots.Candidate.Select(v => 2 * v)])));
        Digits.Agree(a.AsTested!.Ratio!.Estimate, b.AsTested!.Ratio!.Estimate, new(12), "ratio");
        Assert.Equal(a.Finding.Outcome, b.Finding.Outcome);
    }, iter: 60);

    private static ComparisonInput Input((double[] Reference, double[] Candidate) lots)
    {
        ComparisonInput oracle = OracleCases.Input(OracleCases.Case("as-tested-with-history"));
        return oracle with { Lots = Coupons.Table([.. Coupons.Lot("K17", lots.Reference, hrc: 62.2).Select(r => r with { Source = "P" }), .. Coupons.Lot("M03", lots.Candidate, hrc: 62.6).Select(r => r with { Source = "R" })]) };
    }

    private static ComparisonInput Bare((double[] Reference, double[] Candidate) lots) => Coupons.Input([.. Coupons.Lot("K17", lots.Reference), .. Coupons.Lot("M03", lots.Candidate)]);

    private static CouponTable InFootPounds(CouponTable table) => table with { Rows = [.. table.Rows.Select(r => r with { Readings = new Dictionary<string, IReadOnlyList<CensoredValue>> { ["impact energy"] = [.. r.Readings["impact energy"].Select(v => CensoredValue.Of(v.Value / PropertyTable.JoulesPerFootPound, "ft·lbf"))] } })] };

    private static Verdict Judge(ComparisonInput input) => Comparison.Judge(input, CancellationToken.None);

    private static Outcome Mirror(Outcome outcome) => outcome switch { Outcome.Better => Outcome.Worse, Outcome.Worse => Outcome.Better, _ => outcome };
}
