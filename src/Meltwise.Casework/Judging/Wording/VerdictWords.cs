using System.Globalization;

namespace Meltwise.Casework.Judging;

/// <summary>Turns the numbers of a verdict into its words: the one place where that happens.</summary>
internal static class VerdictWords
{
    private const int SmallLot = 4;

    public static Verdict Complete(Verdict verdict, (Reason Reason, string Missing)? refusal, ComparisonInput input, ResolvedRule rule)
    {
        RuleStanding standing = input.Standing;
        Names names = Names.Of(verdict, rule);
        EstimandResult? result = refusal is null ? Main(verdict, rule) : null;
        string? warning = Sentences.Warning(standing, rule);
        string sentence = refusal is { } stop ? Sentences.Refusal(stop.Missing, rule.Rule.Estimand, rule.Rule.OtherProperties().Any() ? rule.Property.Name : null) : Sentences.Of(verdict, result!, names, rule, standing);
        List<string> lines = [sentence];
        if (result is not null && !input.IsBeside) lines.AddRange(Sentences.Scope(verdict, rule));
        Finding finding = verdict.Finding with
        {
            Reason = refusal?.Reason,
            Missing = refusal?.Missing,
            Warning = warning,
            Sentence = string.Join(" ", lines),
            Text = warning is null ? string.Join(" ", lines) : $"{warning}\n{string.Join(" ", lines)}",
            MayClaim = result is null ? [] : Claims.May(result, names, rule),
            MayNotClaim = Claims.MayNot(result?.Outcome, names.Property, verdict),
            Firmness = Firmness(verdict),
        };
        return verdict with { Finding = finding, Notes = [.. verdict.Notes, .. Notes(verdict, rule)] };
    }

    private static EstimandResult Main(Verdict verdict, ResolvedRule rule) => rule.Rule.Estimand switch
    {
        Domain.Estimand.EqualHardness => verdict.EqualHardness!,
        Domain.Estimand.Sources => verdict.Sources!,
        _ => verdict.AsTested!,
    };

    private static string? Firmness(Verdict verdict)
    {
        if (verdict.Variants is not { Of: > 0 } variants) return null;
        string head = $"The same outcome under {variants.Agree} of {variants.Of} other choices; this is no probability.";
        IEnumerable<string> others = variants.Outcomes.Where(v => v.Value != verdict.Finding.Outcome).Select(v => $"{InWords(v.Key)}: {Sentences.InWords(v.Value)}");
        string dissent = string.Join("; ", others);
        string without = verdict.LeaveOneOut is { Count: > 0 } flips ? $" Coupons whose absence would change it: {string.Join(", ", flips.Keys)}." : "";
        return (dissent.Length == 0 ? head : $"{head} Otherwise {dissent}.{without}") + Boldness(verdict, variants);
    }

    /// <summary>What the choices of question A are worth for lots of these sizes and scatters; said only for one load and two heats, as simulated.</summary>
    private static string Boldness(Verdict verdict, Variants variants) =>
        SizesAndScatter(verdict) is var (first, second, ratio) ? ChoiceCoverage.Words(variants.Outcomes.Keys, first, second, ratio) : "";

    /// <summary>Coupons of the lot that scatters more, of the other, and by how many times; null for another question than A, several loads, several heats, or a scatter that is not the lots' own.</summary>
    private static (int First, int Second, double Ratio)? SizesAndScatter(Verdict verdict)
    {
        if (verdict.Rule.Estimand != Domain.Estimand.AsTested.Code() || verdict.Lent is { Used: true } || verdict.Lots.Any(l => l.Heat.Count > 1)) return null;
        if (verdict.AsTested is not { Stands: true, Scatter.RatioOfSd: var ratio, LoadWeights.Count: <= 1 }) return null;
        int reference = verdict.Lots[0].NCompared, candidate = verdict.Lots[1].NCompared;
        return ratio >= 1 ? (candidate, reference, ratio) : (reference, candidate, 1 / ratio);
    }

    /// <summary>A variant in words.</summary>
    public static string InWords(string variant) => variant switch
    {
        "anyOneCouponLeftOut" => "with one coupon left out",
        "exclusionsUndone" => "with the excluded coupons back in",
        "arithmeticMeans" => "with arithmetic means",
        "pooledVariance" => "with one variance for both lots",
        "trimmedMeans" => "with trimmed means",
        "permutation" => "by permutation",
        "powerScale" => "on the scale of the scatter law",
        "lentScatter" => "with scatter lent by the bench",
        "ownScatter" => "with the lots' own scatter",
        "loadsIgnored" => "with furnace loads ignored",
        "marginAsNumber" => "with the margin taken as a plain number",
        "straightTrend" => "with a straight trend",
        "slopeUncorrected" => "with the slope not corrected for error in hardness",
        "sourcesIgnoredInTrend" => "with sources ignored in the trend",
        "sessionSd0.3" => "with a between-session error of 0.3 HRC",
        "ownSlopes" => "with every lot on a line of its own",
        "slopeCorrected" => "with the ladder's slope corrected for error in hardness",
        "betweenHeatsSlope" => "with the slope between heats",
        "ladderSlope" => "with the slope of the temper ladder",
        "lotsOwnVariances" => "with the lots' own variances",
        "kenwardRoger" => "by Kenward and Roger's adjustment",
        _ => variant,
    };

    private static IEnumerable<string> Notes(Verdict verdict, ResolvedRule rule)
    {
        if (rule.Look is { } look) yield return $"Look {look} of an extension: each look uses half of the rule's error rate, {Size.Level(rule.Alpha)}.";
        if (verdict.Stratum.NotRecorded.Count > 0) yield return $"Not recorded, so taken as alike: {string.Join(", ", verdict.Stratum.NotRecorded)}.";
        if (verdict.History is { } history)
        {
            yield return $"History: {history.Matched.Coupons} coupons of {history.Matched.Heats} heats match the lots, of {history.Rows} rows.";
            if (history.TakenAsOneKind.Count > 0) yield return $"Taken as of one kind, for want of a column: {string.Join("; ", history.TakenAsOneKind)}.";
        }
        if (verdict.ScatterLaw is { Source: "assumed" } && rule.IsLog) yield return "Scatter law: proportional to the mean (exponent 1), assumed, for want of enough history.";
        if (rule.HigherIsBetter is null) yield return $"{Capital(rule.Property.Name)} has no good direction: outcomes read higher and lower.";
        int fewest = verdict.Lots.Min(l => l.NCompared);
        if (fewest is 3 or SmallLot && rule.IsLog)
            yield return string.Create(CultureInfo.InvariantCulture, $"Small lots: with {fewest} coupons a lot, a scatter of 15 % and a margin of 0.80 to 1.25, agreement is shown in about {(fewest == 3 ? 11 : 22)} of 100 cases even when there is no difference; nearly all others end inconclusive (simulated).");
        if (SizesAndScatter(verdict) is var (first, second, ratio) && ChoiceCoverage.OfTheVerdict(first, second, ratio) is { } bold) yield return bold;
        if (verdict.ShownOnly?.Note is { } shown) yield return shown;
        yield return "Reading: mean of the readings of a coupon; n counts coupons. Relates only to the coupons tested.";
    }

    private static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];
}
