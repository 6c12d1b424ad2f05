using System.Text.Json;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Resampling;
using static System.FormattableString;

namespace Meltwise.Calibrations;

/// <summary>Two lots as tested, one variance, furnace loads and a planned extension, each judged by the decision table of the verdict.</summary>
internal static class RecordedLots
{
    private static readonly string[] s_all = ["anyEquivalent", "excludes1", "better", "worse", "lowerTestRejects", "upperTestRejects", "equivalent", "equivalentDetectable", "differentOpen", "inconclusive", "beyondMarginBy90"];

    /// <summary>The rates of <see cref="Note"/>.</summary>
    internal static readonly string[] Short = s_all[..6];

    private static readonly string[] s_two = s_all[..2];

    /// <summary>The rule of all rows: 0.80 to 1.25, α 0.05.</summary>
    internal static readonly ResolvedRule Rule = ResolvedRule.From(new() { Property = "impact energy", Margin = new Margin.Ratio(0.8, 1.25) }, "J", 3);

    private static readonly ResolvedRule s_look = ResolvedRule.From(new() { Property = "impact energy", Margin = new Margin.Ratio(0.8, 1.25), Look = 1 }, "J", 3);

    public static IReadOnlyList<RecordedKind> Of(JsonElement root)
    {
        JsonElement[] lots = Rows(root, "asTested"), loads = Rows(root, "loads"), extension = Rows(root, "extension");
        return
        [
            RecordedRates.Kind("as tested, own variances", "Within-load contrast and decision table; scatter exponents, skewed readings, unequal lots.", s_all, Designs(lots, "own", c => c.Own), 20_000, 200, 1, 501),
            RecordedRates.Kind("as tested, one variance (a choice of how firm)", "The same with the contrast's pooled variance.", s_all, Designs(lots, "pooled", c => c.Pooled), 20_000, 200, 1, 502),
            RecordedRates.Kind("as tested, compared within furnace loads", "Within-load contrast and decision table.", Short, loads.Where(r => Method(r) == "within loads").Select(r => (r, r, Loads(r, false))), 40_000, 1_000, 1, 503),
            RecordedRates.Kind("as tested, loads ignored (a choice of how firm)", "The same as if all coupons were of one load.", Short, loads.Where(r => Method(r) == "loads ignored").Select(r => (r, r, Loads(r, true))), 40_000, 1_000, 1, 504),
            RecordedRates.Kind("planned extension, error rate split", "Two looks by a rule that plans an extension; the second only after an inconclusive first, as the other program has it (the product extends an open difference too).", s_two,
                extension.Where(r => r.GetProperty("rule").GetString()!.StartsWith("split", StringComparison.Ordinal)).Select(r => (r, r, Extended(r))), 40_000, 1_000, 1, 505),
            RecordedRates.Kind("extension planned and not made", "One look by a rule without extension.", s_two, extension.Where(r => r.GetProperty("rule").GetString() == "first look only").Select(r => (r, r, FirstLook(r))), 40_000, 1_000, 1, 506),
        ];
    }

    /// <summary>Notes the outcome and the two one-sided tests in the order of the columns.</summary>
    internal static void Note(Tally tally, ContrastEstimate e)
    {
        JudgedContrast judged = JudgedContrast.Against(Rule.Limits, e, [], Rule);
        Outcome o = judged.Outcome;
        (double low, double high) = Rule.Limits;
        tally.Add(0, o is Outcome.Equivalent or Outcome.EquivalentDetectable);
        tally.Add(1, judged.PDifference < Rule.Alpha);
        tally.Add(2, judged.Wide.Lower > high);
        tally.Add(3, judged.Wide.Upper < low);
        tally.Add(4, judged.Narrow.Lower > low);
        tally.Add(5, judged.Narrow.Upper < high);
    }

    private static void NoteAll(Tally tally, ContrastEstimate e)
    {
        Note(tally, e);
        JudgedContrast judged = JudgedContrast.Against(Rule.Limits, e, [], Rule);
        tally.Add(6, judged.Outcome == Outcome.Equivalent);
        tally.Add(7, judged.Outcome == Outcome.EquivalentDetectable);
        tally.Add(8, judged.Outcome == Outcome.DifferentOpen);
        tally.Add(9, judged.Outcome == Outcome.Inconclusive);
        tally.Add(10, judged.Narrow.Lower > Rule.Limits.High || judged.Narrow.Upper < Rule.Limits.Low);
    }

    private static IEnumerable<(JsonElement, JsonElement, Design)> Designs(JsonElement[] rows, string method, Func<LotContrast, ContrastEstimate> of) => rows.Where(r => Method(r) == method).Select(r =>
    {
        string errors = r.GetProperty("errors").GetString()!;
        int n = RecordedRates.Count(r, "nCandidate"), m = RecordedRates.Count(r, "nReference");
        double exponent = RecordedRates.Number(r, "exponent"), cv = RecordedRates.Number(r, "cv"), truth = RecordedRates.Number(r, "trueRatio"), factor = r.TryGetProperty("candidateScatterFactor", out JsonElement f) ? f.GetDouble() : 1;
        bool[] candidate = [.. Enumerable.Range(0, n + m).Select(i => i < n)];
        int[] load = new int[n + m];
        Func<double> mean = errors == "lognormal" ? () => truth : () => AsTestedRates.MeanFor(Shape(errors), truth, cv, exponent);
        Lazy<double> of1 = new(mean);
        return (r, r, new Design(Invariant($"{errors}, exponent {exponent}, CV {100 * cv:0} %, n {n} and {m}, scatter ×{factor}, ratio {truth}"), (ref RandomStream random, Tally tally) =>
        {
            double[] z = new double[n + m];
            for (int i = 0; i < z.Length; i++)
                z[i] = errors == "lognormal" ? (i < n ? Math.Log(truth) + factor * cv * random.Normal() : cv * random.Normal()) : AsTestedRates.LogReading(ref random, Shape(errors), i < n ? of1.Value : 1, cv, exponent);
            NoteAll(tally, of(WithinLoadContrast.Fit(z, candidate, load, 1)!));
        }));
    });

    private static Design Loads(JsonElement r, bool ignored)
    {
        int loads = RecordedRates.Count(r, "loads"), per = RecordedRates.Count(r, "perLotAndLoad");
        double sd = RecordedRates.Number(r, "loadSd"), truth = Math.Log(RecordedRates.Number(r, "trueRatio"));
        return new(Invariant($"load SD {sd}, {loads} loads of {per} a lot, ratio {Math.Exp(truth):0.##}"), (ref RandomStream random, Tally tally) =>
        {
            int half = loads * per;
            double[] z = new double[2 * half];
            int[] load = new int[2 * half];
            bool[] candidate = new bool[2 * half];
            for (int l = 0; l < loads; l++)
            {
                double level = sd * random.Normal();
                for (int i = l * per; i < (l + 1) * per; i++)
                    foreach (int at in new[] { i, i + half })
                        (z[at], load[at], candidate[at]) = (level + (at < half ? truth : 0) + 0.12 * random.Normal(), l, at < half);
            }
            Note(tally, WithinLoadContrast.Fit(z, candidate, ignored ? new int[z.Length] : load, ignored ? 1 : loads)!.Own);
        });
    }

    private static Design Extended(JsonElement r) => Looks(r, (double[] c, double[] q, int first, Tally tally) =>
    {
        JudgedContrast look = Judge(c[..first], q[..first], s_look), last = Judge(c, q, s_look);
        JudgedContrast counts = look.Outcome == Outcome.Inconclusive ? last : look;
        tally.Add(0, counts.Outcome is Outcome.Equivalent or Outcome.EquivalentDetectable);
        tally.Add(1, counts.PDifference < s_look.Alpha);
    });

    private static Design FirstLook(JsonElement r) => Looks(r, (double[] c, double[] q, int first, Tally tally) =>
    {
        JudgedContrast look = Judge(c[..first], q[..first], Rule);
        tally.Add(0, look.Outcome is Outcome.Equivalent or Outcome.EquivalentDetectable);
        tally.Add(1, look.PDifference < Rule.Alpha);
    });

    private static Design Looks(JsonElement r, Action<double[], double[], int, Tally> judge)
    {
        int first = RecordedRates.Count(r, "first"), added = RecordedRates.Count(r, "added");
        double cv = RecordedRates.Number(r, "cv"), truth = RecordedRates.Number(r, "trueRatio");
        return new(Invariant($"{first} + {added} coupons, scatter {cv}, ratio {truth}"), (ref RandomStream random, Tally tally) =>
            judge(IntervalRates.Draw(ref random, first + added, Math.Log(truth), cv), IntervalRates.Draw(ref random, first + added, 0, cv), first, tally));
    }

    private static JudgedContrast Judge(double[] candidate, double[] reference, ResolvedRule rule)
    {
        int n = candidate.Length;
        LotContrast contrast = WithinLoadContrast.Fit([.. candidate, .. reference], [.. Enumerable.Range(0, 2 * n).Select(i => i < n)], new int[2 * n], 1)!;
        return JudgedContrast.Against(rule.Limits, contrast.Own, [], rule);
    }

    private static AsTestedRates.Shape Shape(string errors) => errors switch { "normal" => AsTestedRates.Shape.Normal, "right" => AsTestedRates.Shape.Right, _ => AsTestedRates.Shape.Left };

    private static string? Method(JsonElement row) => row.GetProperty("method").GetString();

    private static JsonElement[] Rows(JsonElement root, string block) => [.. root.GetProperty(block).GetProperty("rows").EnumerateArray()];
}
