using System.Globalization;
using Meltwise.Casework.Planning;
using Meltwise.Domain;

namespace Meltwise.Cli.Terminal;

/// <summary>A planning table on the terminal.</summary>
internal static class PlanPage
{
    private static readonly Dictionary<string, string> s_short = new(StringComparer.Ordinal)
    {
        ["equivalent"] = "equiv.",
        ["equivalent-detectable"] = "detect.",
        ["different-open"] = "open",
        ["inconclusive"] = "inconcl.",
        ["no-verdict"] = "none",
    };

    public static void Write(Paper paper, PlanRequest request, PlanTable plan, BenchKnowledge? known, IReadOnlyList<string> from)
    {
        paper.Title(request.Further.Count > 0
            ? $"Odds of each outcome; question {plan.Question}; {request.Further.Count + 1} primary properties together: {string.Join(", ", request.Further.Select(f => f.Own.Property).Prepend(request.Property))}"
            : string.Create(CultureInfo.InvariantCulture, $"Odds of each outcome; question {plan.Question}, margin {Margin(request)}, scatter within a heat {request.WithinHeatSd:0.###}"));
        if (plan.CannotAnswer is { } cannot) paper.Item("! ", cannot);
        if (known is not null) paper.Text(Said(known));
        foreach (IGrouping<string, PlanRow> estimand in plan.Table.GroupBy(r => r.Estimand))
        {
            double[] truths = [.. estimand.Select(r => r.TrueRatio).Distinct()];
            int[] heats = [.. estimand.Select(r => r.Heats).Distinct()];
            string given = (heats is [var h] ? $"; {h} {(h == 1 ? "heat" : "heats")} a side" : "") + (truths is [var t] ? string.Create(CultureInfo.InvariantCulture, $"; truth {t:0.00##}") : "");
            paper.Section($"Answer {PlanWords.AnswersFor(estimand.Key)}{given}");
            Table(paper, request, [.. estimand]);
            if (request.Ladder is not null) Refusals(paper, [.. estimand]);
            if (request.Further.Count > 0) Each(paper, request, [.. estimand]);
            string best = plan.Cheapest.FirstOrDefault(c => c.Estimand == estimand.Key) is { } cheapest
                ? $"Cheapest plan: {cheapest}."
                : string.Create(CultureInfo.InvariantCulture, $"No plan of these answers yes with a chance of {request.WantedChance:0.##} if the truth is {plan.WantedAt:0.###}.");
            paper.Text(best);
        }
        paper.Section("Limits");
        paper.Item("  ", "equiv.: equivalent; detect.: equivalent with a difference detected; open: different, size open; inconcl.: inconclusive; yes: chance of the answer yes; theory: the same from normal theory; detects: smallest ratio or difference shown with a chance of 0.8.");
        foreach (RefusedPlan refused in plan.Refused) paper.Item("! ", $"Refused, {refused.Heats} × {refused.Coupons} in {refused.Loads} (heats × coupons in loads): {refused.Why}");
        foreach (LowCouponChance low in plan.LowCoupons)
            paper.Item("  ", string.Create(CultureInfo.InvariantCulture, $"{low.Coupons} coupons a lot: at least one flaw-governed in the reference {low.InReference:0.00}, in the candidate {low.InCandidate:0.00}, in either {low.InEither:0.00}."));
        foreach (string note in from.Concat(plan.Notes)) paper.Item("  ", note);
        paper.Text(string.Create(CultureInfo.InvariantCulture, $"{plan.Replicates} replicates, seed {plan.Seed}; Monte-Carlo error of an odds at most {plan.Table.Max(r => r.StandardError.Values.DefaultIfEmpty().Max()):0.0000}."));
    }

    private static void Table(Paper paper, PlanRequest request, IReadOnlyList<PlanRow> rows)
    {
        string[] outcomes = [.. rows.SelectMany(r => r.Odds).Where(o => o.Value >= 0.005).Select(o => o.Key).Distinct()];
        bool truths = rows.Select(r => r.TrueRatio).Distinct().Count() > 1, heats = rows.Select(r => r.Heats).Distinct().Count() > 1, several = request.Loads.Count > 1, extends = request.Extension is not null, flaws = request.Flaws is not null, theory = rows.Any(r => r.YesByTheory is not null), together = request.Further.Count > 0;
        List<string> head =
        [
            "coupons", .. heats ? new[] { "heats" } : [], .. several ? new[] { "loads" } : [], .. truths ? new[] { "truth" } : [], .. outcomes.Select(o => s_short.GetValueOrDefault(o, o)),
            "yes", .. theory ? new[] { "theory" } : [], .. flaws ? new[] { "if sound" } : [], .. extends ? new[] { "extended" } : [], .. together ? [] : new[] { "detects" }, "cost",
        ];
        paper.Table(head, rows.Select(r => (IReadOnlyList<string>)
        [
            Whole(r.Coupons), .. heats ? new[] { Whole(r.Heats) } : [], .. several ? new[] { Whole(r.Loads) } : [], .. truths ? new[] { r.TrueRatio.ToString("0.00##", CultureInfo.InvariantCulture) } : [], .. outcomes.Select(o => Chance(r.Odds.GetValueOrDefault(o))),
            Chance(r.Answers["yes"]), .. theory ? new[] { r.YesByTheory is { } t ? Chance(t) : "" } : [], .. flaws ? new[] { Chance(r.YesWithoutFlaws ?? 0) } : [], .. extends ? new[] { Chance(r.ChanceOfExtension ?? 0) } : [],
            .. together ? [] : new[] { Detects(r.SmallestDetectable) }, r.Cost.ToString("0.#", CultureInfo.InvariantCulture),
        ]), [.. Enumerable.Range(0, head.Count)]);
    }

    /// <summary>Chances of no verdict by reason.</summary>
    private static void Refusals(Paper paper, IReadOnlyList<PlanRow> rows)
    {
        string[] reasons = [.. rows.SelectMany(r => r.Refusals?.Keys ?? []).Distinct()];
        if (reasons.Length == 0) return;
        paper.Text($"No verdict: {string.Join("; ", reasons.Select(r => $"{r}, {PlanWords.Refused(r)}"))}.");
        bool truths = rows.Any(r => !r.TrueRatio.Equals(rows[0].TrueRatio));
        paper.Table(["coupons", .. truths ? new[] { "truth" } : [], .. reasons], rows.Select(r => (IReadOnlyList<string>)
            [Whole(r.Coupons), .. truths ? new[] { r.TrueRatio.ToString("0.00##", CultureInfo.InvariantCulture) } : [], .. reasons.Select(reason => Chance(r.Refusals?.GetValueOrDefault(reason) ?? 0))]), [.. Enumerable.Range(0, 2 + reasons.Length)]);
    }

    /// <summary>Every property by itself, beside the joint odds.</summary>
    private static void Each(Paper paper, PlanRequest request, IReadOnlyList<PlanRow> rows)
    {
        bool difference = request.Question == Question.Difference, heats = rows.Any(r => r.Heats != rows[0].Heats), truths = rows.Any(r => !r.TrueRatio.Equals(rows[0].TrueRatio));
        paper.Text($"Each property by itself: {(difference ? "its chance of a difference that may be claimed after Holm's correction" : "its chance of yes")}, and the smallest difference shown with a chance of 0.8.");
        List<string> head = ["coupons", .. heats ? new[] { "heats" } : [], .. truths ? new[] { "truth" } : [], .. rows[0].Properties!.SelectMany(p => new[] { p.Property, "detects" })];
        paper.Table(head, rows.Select(r => (IReadOnlyList<string>)
        [
            Whole(r.Coupons), .. heats ? new[] { Whole(r.Heats) } : [], .. truths ? new[] { r.TrueRatio.ToString("0.00##", CultureInfo.InvariantCulture) } : [],
            .. r.Properties!.SelectMany(p => new[] { Chance(difference ? p.DifferenceClaimed : p.Answers["yes"]), Detects(p.SmallestDetectable) }),
        ]), [.. Enumerable.Range(0, head.Count)]);
    }

    private static string Detects(double smallest) => double.IsFinite(smallest) ? smallest.ToString("0.00", CultureInfo.InvariantCulture) : "none";

    private static string Said(BenchKnowledge k)
    {
        List<string> said = [];
        if (k.WithinHeatSd is { } within) said.Add(string.Create(CultureInfo.InvariantCulture, $"scatter within a heat {within:0.000} ({k.WithinHeatSdDf:0} degrees of freedom)"));
        if (k.HeatSd is { } heats) said.Add(string.Create(CultureInfo.InvariantCulture, $"among heats {heats:0.000}{(k.HeatSdDf is { } df ? $" ({df:0})" : "")}"));
        said.Add(k.Trend is { } t ? string.Create(CultureInfo.InvariantCulture, $"slope {t.Slope:0.000} ± {t.SlopeStandardError:0.000} per HRC") : $"no trend: {k.WhyNoTrend}");
        return $"From the bench, {k.Coupons} coupons of {k.Heats} heats ({k.Kind}): {string.Join("; ", said)}.";
    }

    private static string Margin(PlanRequest r) => r.MarginIn switch
    {
        PlanMargin.Hardness => string.Create(CultureInfo.InvariantCulture, $"{r.MarginHigh:0.##} HRC"),
        PlanMargin.Unit => string.Create(CultureInfo.InvariantCulture, $"± {r.MarginHigh:0.##} about {r.ReferenceMean:0.##}"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{r.MarginLow:0.00##} to {r.MarginHigh:0.00##}"),
    };

    private static string Chance(double p) => p.ToString("0.00", CultureInfo.InvariantCulture);

    private static string Whole(int n) => n.ToString(CultureInfo.InvariantCulture);
}
