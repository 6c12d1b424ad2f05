using System.Text.Json;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Resampling;
using Meltwise.Statistics.ScatterLaw;
using static System.FormattableString;

namespace Meltwise.Calibrations;

/// <summary>What the bench's history does to the comparison as tested: scatter lent by the verdict's own step, the scale of the scatter law, and the law itself; a history is drawn for every replicate.</summary>
internal static class RecordedHistory
{
    private const double Cv = 0.15;

    public static IReadOnlyList<RecordedKind> Of(JsonElement block)
    {
        JsonElement[] rows = [.. block.GetProperty("rows").EnumerateArray()], laws = [.. block.GetProperty("exponent").EnumerateArray()];
        return
        [
            RecordedRates.Kind("as tested beside a history, own variances", "Within-load contrast and decision table; the history does not enter.", RecordedLots.Short, Designs(rows, "own", 0), 4_000, 400, 5, 511),
            RecordedRates.Kind("scatter lent by the bench", "The verdict's scatter step, with its guard; 12 and 40 groups.", RecordedLots.Short, Designs(rows, "lent", 10), 1_000, 100, 8, 512, 0.004),
            RecordedRates.Kind("scale of the scatter law (a choice of how firm)", "The choice of the verdict's firmness step; where the exponent lies within 0.02 of 1 the choice does not apply and the outcome itself counts.", RecordedLots.Short[..4], Designs(rows, "power from history", 0), 4_000, 200, 6, 513),
            RecordedRates.Kind("exponent of the scatter law", "Gamma law of the verdict.", ["cover95"], laws.Select(r => (r, r, Law(r))), 10_000, 400, 3, 514),
        ];
    }

    private static IEnumerable<(JsonElement, JsonElement, Design)> Designs(JsonElement[] rows, string method, int fewestGroups) =>
        rows.Where(r => r.GetProperty("method").GetString() == method && RecordedRates.Count(r, "groups") >= fewestGroups).Select(r => (r, r, Of(r, method)));

    private static Design Of(JsonElement r, string method)
    {
        int groups = RecordedRates.Count(r, "groups"), n = RecordedRates.Count(r, "n");
        double exponent = RecordedRates.Number(r, "exponent"), factor = RecordedRates.Number(r, "candidateScatterFactor"), truth = RecordedRates.Number(r, "trueRatio"), prior = Prior(r);
        bool[] candidate = [.. Enumerable.Range(0, 2 * n).Select(i => i < n)];
        double ofCandidate = factor * Cv * Math.Pow(truth, exponent - 1);
        return new(Invariant($"{Spread(prior)}, exponent {exponent}, {groups} groups, n {n}, scatter ×{factor}, ratio {truth}"), (ref RandomStream random, Tally tally) =>
        {
            double vc = Chance(ref random, prior), vr = Chance(ref random, prior);
            double[] z = [.. IntervalRates.Draw(ref random, n, Math.Log(truth), ofCandidate * vc), .. IntervalRates.Draw(ref random, n, 0, Cv * vr)];
            LotContrast contrast = WithinLoadContrast.Fit(z, candidate, new int[2 * n], 1)!;
            switch (method)
            {
                case "own":
                    RecordedLots.Note(tally, contrast.Own);
                    break;
                case "lent":
                    IReadOnlyList<VariancePart>? lent = new ScatterStep(History(ref random, groups, exponent, prior), RecordedLots.Rule).Lend(contrast).Parts;
                    RecordedLots.Note(tally, lent is null ? contrast.Own : ContrastEstimate.FromParts(contrast.Estimate, lent));
                    break;
                default:
                    NotePower(tally, z, candidate, GammaVarianceLaw.Fit(History(ref random, groups, exponent, prior))!.Exponent, contrast);
                    break;
            }
        });
    }

    private static void NotePower(Tally tally, double[] z, bool[] candidate, double exponent, LotContrast contrast)
    {
        LotData lots = new(z.Select((v, i) => new LotCoupon(new CouponRow { Heat = candidate[i] ? "M" : "K", Coupon = Invariant($"{i}") }, candidate[i], Math.Exp(v), Censoring.None, double.NaN)), RecordedLots.Rule);
        ScatterStep none = new((HistoryMatch?)null, RecordedLots.Rule);
        Outcome outcome = Math.Abs(1 - exponent) < 0.02 ? JudgedContrast.Against(RecordedLots.Rule.Limits, contrast.Own, [], RecordedLots.Rule).Outcome
            : new FirmnessStep(lots, new(lots, none), none, RecordedLots.Rule).PowerScale(1 - exponent);
        tally.Add(0, outcome is Outcome.Equivalent or Outcome.EquivalentDetectable);
        tally.Add(1, outcome is not (Outcome.Equivalent or Outcome.Inconclusive));
        tally.Add(2, outcome == Outcome.Better);
        tally.Add(3, outcome == Outcome.Worse);
    }

    private static Design Law(JsonElement r)
    {
        int groups = RecordedRates.Count(r, "groups");
        double exponent = RecordedRates.Number(r, "exponent"), prior = Prior(r);
        return new(Invariant($"{Spread(prior)}, exponent {exponent}, {groups} groups"), (ref RandomStream random, Tally tally) =>
        {
            if (GammaVarianceLaw.Fit(History(ref random, groups, exponent, prior)) is { Interval: { } interval }) tally.Add(0, interval, exponent);
        });
    }

    /// <summary>Groups of 3 to 6 coupons whose means lie over a factor 6.</summary>
    private static ScatterGroup[] History(ref RandomStream random, int groups, double exponent, double prior)
    {
        ScatterGroup[] history = new ScatterGroup[groups];
        for (int g = 0; g < groups; g++)
        {
            int n = 3 + random.Index(4);
            double log = Math.Log(0.25) + Math.Log(6) * random.Uniform();
            double[] z = IntervalRates.Draw(ref random, n, log, Cv * Math.Exp((exponent - 1) * log) * Chance(ref random, prior));
            history[g] = new(IntervalRates.Mean(z), IntervalRates.Variance(z), n - 1);
        }
        return history;
    }

    /// <summary>True scatter of a group over that of the law.</summary>
    private static double Chance(ref RandomStream random, double prior) => double.IsPositiveInfinity(prior) ? 1 : Math.Sqrt(prior / random.ChiSquared(prior));

    private static double Prior(JsonElement r) => r.GetProperty("priorDfTrue") is { ValueKind: JsonValueKind.Number } number ? number.GetDouble() : double.PositiveInfinity;

    private static string Spread(double prior) => double.IsPositiveInfinity(prior) ? "scatter by the law" : Invariant($"scatter about the law with {prior} degrees of freedom");
}
