using Meltwise.Domain;
using Meltwise.Web.Page;

namespace Meltwise.Web.Enquiries;

/// <summary>A decision rule line by line, as the sheet prints it.</summary>
internal static class RuleWords
{
    /// <summary>Label and text of every line.</summary>
    public static IEnumerable<(string Label, string Text)> Lines(DecisionRule rule, Enquiry enquiry, Written written)
    {
        yield return ("Applies to", AppliesTo(enquiry));
        yield return ("Property", rule.Property + Direction(rule));
        yield return ("Margin", Margin(rule.Margin, written));
        yield return ("Kind of question", $"{Question(rule.Question)}; {written.Significant(100 * rule.Alpha / (rule.Look is null ? 1 : 2), rule.Look is null ? 1 : 2)}\u00A0% risk on each side{(rule.Look is null ? "" : " at each look")}");
        yield return ("Judged", Judged(rule));
        yield return ("Scatter", rule.Scatter == ScatterChoice.Own ? "each lot’s own" : "each lot’s own, moderated by the bench’s scatter law");
        if (rule.SessionSdHrc is { } sd)
        {
            yield return ("Hardness sessions", $"scatter by {written.Number(sd, 2)}\u00A0HRC{(rule.SessionSdFrom is { } from ? $", from {from}" : ", as typed")}{(rule.SeparateSessions ? "; the lots are read in separate ones" : "")}");
        }
        else if (rule.Estimand == Estimand.EqualHardness)
        {
            yield return ("Hardness sessions", $"scatter not named, taken as 0{(rule.SeparateSessions ? "; the lots are read in separate ones" : "")}");
        }

        yield return ("Suspect coupons", "flagged, never dropped by a test; out only for a physical cause");
        yield return ("If inconclusive", rule.Look is null ? "it stays so; no extension is planned" : $"one extension; this is look {rule.Look}");
        foreach ((PropertyRole role, OtherProperty other) in rule.OtherProperties())
        {
            yield return (role == PropertyRole.Primary ? "Must agree too" : "Secondary", $"{other.Property}: {Margin(other.Margin, written)}");
        }

        if (rule.PlannedCouponsPerLot is { } n)
        {
            yield return ("Planned", Written.Counted(n, "coupon") + " a lot");
        }

        if (enquiry.PaidBy is { } payer)
        {
            yield return ("Paid by", payer);
        }
    }

    /// <summary>A margin in words.</summary>
    public static string Margin(Margin margin, Written written) => margin switch
    {
        Domain.Margin.Ratio r => $"ratio candidate / reference from {Limit(r.Low, written)} to {Limit(r.High, written)}",
        Domain.Margin.Absolute a => $"difference of means within ±\u00A0{written.Significant(a.PlusMinus, 3)}\u00A0{a.Unit}",
        Domain.Margin.InHardness h => $"what {written.Significant(h.Hrc, 2)}\u00A0HRC is worth on the bench’s own trend",
        _ => throw new System.Diagnostics.UnreachableException(),
    };

    /// <summary>A question in words.</summary>
    public static string Question(Question question) => question switch
    {
        Domain.Question.NotWorse => "not worse",
        Domain.Question.Better => "better",
        Domain.Question.Difference => "any difference, and its size",
        _ => "equivalent",
    };

    /// <summary>An estimand in words.</summary>
    public static string Judged(DecisionRule rule) => rule.Estimand switch
    {
        Estimand.EqualHardness => $"at equal hardness, by the {(rule.LadderSlope ? "bench’s temper ladders" : "bench’s own trend")}; as tested beside it",
        Estimand.Sources => "for the two sources in general, heats as the unit",
        _ => "as tested: these two lots",
    };

    // Two decimals where they say it all, otherwise three: 0.80, but 0.870.
    private static string Limit(double ratio, Written written) => written.Number(ratio, Math.Abs((ratio * 100) - Math.Round(ratio * 100)) < 1e-9 ? 2 : 3);

    private static string AppliesTo(Enquiry enquiry) => enquiry.ReferenceHeats.Count == 0 || enquiry.CandidateHeats.Count == 0
        ? "heats not chosen yet"
        : $"{Written.AndList(enquiry.CandidateHeats)} against {Written.AndList(enquiry.ReferenceHeats)}; not to later heats";

    private static string Direction(DecisionRule rule) => (rule.Better ?? PropertyTable.Find(rule.Property)?.Better ?? GoodDirection.None) switch
    {
        GoodDirection.Higher => ", higher is better",
        GoodDirection.Lower => ", lower is better",
        _ => ", no good direction",
    };
}
