using Meltwise.Domain;

namespace Meltwise.Casework.Judging;

/// <summary>The fixed sentence of every outcome, filled in. Agreement quotes the narrow interval, everything else the wide one.</summary>
internal static class Sentences
{
    public static string Of(Verdict verdict, EstimandResult result, Names names, ResolvedRule rule, RuleStanding standing)
    {
        Size size = Size.Of(result, AsDifference(rule));
        string agreed = standing is RuleStanding.Locked ? " agreed before testing" : "", what = $"For {names.Property}, {names.Condition}, ";
        string basis = rule.Rule.Estimand == Estimand.EqualHardness ? "at equal hardness " : "";
        return result.Outcome switch
        {
            Outcome.Equivalent =>
                $"{what}{basis}{names.Candidate} and {names.Reference} agreed within the margin of {names.Margin}{agreed}; no difference was detected. Best estimate of the {size.Noun} {size.Narrow}.",
            Outcome.EquivalentDetectable =>
                $"{what}{basis}a small difference was detected: {names.Candidate} {size.Amount} {size.Direction} than {names.Reference}, smaller than the margin of {names.Margin}{agreed}. Best estimate of the {size.Noun} {size.Narrow}.",
            Outcome.Better or Outcome.Worse or Outcome.Higher or Outcome.Lower =>
                $"{what}{basis}{names.Candidate} was {size.Amount} {size.Direction} than {names.Reference}, more than the margin of {names.Margin}{agreed}: {InWords(result.Outcome.Value)}. Best estimate of the {size.Noun} {size.Wide}.",
            Outcome.DifferentOpen =>
                $"{what}{basis}{names.Candidate} is {size.Direction} than {names.Reference}, but the test cannot tell whether the gap is large enough to matter. Best estimate of the {size.Noun} {size.Wide}; margin {names.Margin}.{Settle(verdict)}",
            Outcome.Inconclusive =>
                $"{what}{basis}the test could not show that {names.Candidate} and {names.Reference} agree within {names.Margin}, nor that they differ. The data fit any {size.Noun} from {size.WideRange}.{Settle(verdict)}",
            _ => throw new ArgumentException("A result without an outcome has no sentence.", nameof(result)),
        };
    }

    /// <summary>The sentence of a no-verdict.</summary>
    /// <param name="missing">What is missing.</param>
    /// <param name="estimand">What was asked.</param>
    /// <param name="property">The property, where the rule has several.</param>
    public static string Refusal(string missing, Estimand estimand, string? property = null)
    {
        string[] parts = missing.TrimEnd('.', ' ').Split(". ", 2);
        string because = parts[0], advice = parts.Length > 1 ? $" {parts[1]}." : "";
        bool startsAWord = because.Length > 1 && char.IsUpper(because[0]) && (char.IsLower(because[1]) || because[1] == ' ');
        return $"{Subject(estimand)}{(property is null ? "" : $" of {property}")} is not valid because {(startsAWord ? char.ToLowerInvariant(because[0]) + because[1..] : because)}; the results are listed for the record.{advice}";
    }

    /// <summary>What the estimand adds: slope and reliability, or numbers of heats.</summary>
    public static IEnumerable<string> Scope(Verdict verdict, ResolvedRule rule)
    {
        if (rule.Rule.Estimand == Estimand.EqualHardness && verdict.EqualHardness is { Stands: true } b)
        {
            yield return b.Ladder is { } ladder ? OverLadder(b, ladder)
                : $"Values brought to equal hardness with the slope {SlopeOf(b)} {b.SlopeKind}, from {b.Heats} heats of the history{(b.TrendShape == EqualHardnessStep.Bent ? ", along a bent trend at the lots' hardness" : "")}; reliability of their hardness {Figures.Fixed(b.Attenuation!.Value, 2)}.";
            if (verdict.AsTested is { Stands: true } a) yield return $"As tested, without the correction, the {Size.Of(a, !rule.IsLog).Noun} was {Size.Of(a, !rule.IsLog).Wide}.";
        }
        if (rule.Rule.Estimand == Estimand.Sources && verdict.Sources is { Stands: true } c)
        {
            yield return $"Heats: {c.HeatsOfCandidateSource} of {c.CandidateSource}, {c.HeatsOfReferenceSource} of {c.ReferenceSource}, {c.HeatsInAll} in all; {(c.Basis == "equal-hardness" ? "at equal hardness" : "as tested")}.";
            if (c.Note is not null) yield return "One heat of a source: the interval rests on the heat-to-heat scatter of other heats.";
        }
        else if (verdict.Lots.All(l => l.Heat.Count == 1) && verdict.Lots.All(l => l.Source is not null) && verdict.Lots[0].Source != verdict.Lots[1].Source)
        {
            yield return "One heat of each source was tested; source and heat cannot be separated.";
        }
    }

    private static string OverLadder(EqualHardness b, LadderOfLots ladder) =>
        $"Values brought to equal hardness with the slope {SlopeOf(b)} {LadderStep.SlopeKind}, between {Figures.Fixed(ladder.Overlap[0], 1)} and {Figures.Fixed(ladder.Overlap[1], 1)} HRC; parallel lines: {Figures.P(ladder.ParallelismP)}. As tested the lots are not one stratum and are not compared.";

    private static string SlopeOf(EqualHardness b) => b.LogPerHrc is { } perHrc
        ? $"{Figures.Fixed(100 * (Math.Exp(perHrc.Estimate) - 1), 1)} % per HRC" : $"{Figures.Fixed(b.PerHrc!.Estimate, 2)} {b.PerHrc.Unit} per HRC";

    /// <summary>The first line that must stand before everything when the rule was not fixed before looking, or not kept.</summary>
    public static string? Warning(RuleStanding standing, ResolvedRule rule)
    {
        string? fixedLate = standing switch
        {
            RuleStanding.Locked => null,
            RuleStanding.LockedLate late => $"The rule was locked on {late.AtUtc:yyyy-MM-dd HH:mm} UTC, when coupons had been read already: it was not fixed before looking.",
            RuleStanding.Amended a => $"The rule was changed after it was locked ({a.Changes} {(a.Changes == 1 ? "change" : "changes")}, the last on {a.AmendedAtUtc:yyyy-MM-dd HH:mm} UTC: {a.Reason.TrimEnd('.')}).",
            RuleStanding.Unlocked => "The rule is not locked: it could still be changed after the results were seen.",
            _ => "The rule came with a table and is not stamped: nothing shows that it was fixed before the results were seen.",
        };
        string? extended = rule.UnplannedExtension ? "The rule was not kept: more coupons were tested than planned, without a planned extension; the error rate is split over two looks." : null;
        string both = string.Join(" ", new[] { fixedLate, extended }.OfType<string>());
        return both.Length > 0 ? both : null;
    }

    /// <summary>What would settle an open case, with a leading space; empty when it is not known.</summary>
    public static string Settle(Verdict verdict)
    {
        if (verdict.Rule.Estimand == "sources")
            return verdict.Sources?.HeatsToSettle is { } heats ? $" {(heats.IsMore ? "More than " : "")}{heats.Number} heats of each source would likely settle it, if the sources do not differ." : "";
        if (verdict.Finding.CouponsToSettle is not { } settle) return "";
        int tested = verdict.Lots.Max(l => l.NCompared);
        string? asSeen = settle.IfRatioIsAsSeen is { } seen ? seen.IsMore ? "if the difference is truly the one seen, it cannot be settled by coupons" : $"{seen.Number} if the difference is truly the one seen" : null;
        if (settle.IfRatioIsOne is not { } one) return "";
        if (one.IsMore) return " More coupons are unlikely to settle it.";
        if (one.Number <= tested) return asSeen is null ? " More coupons are unlikely to show agreement." : $" In all, coupons a lot that would likely show agreement: {asSeen}.";
        return $" In all, {one.Number} coupons a lot would likely show agreement if there is truly no difference{(asSeen is null ? "" : $"; {asSeen}")}.";
    }

    /// <summary>True where the margin is a difference, so that the sentence is about one.</summary>
    public static bool AsDifference(ResolvedRule rule) => !rule.IsLog || rule.Kind == MarginKind.Absolute && rule.Rule.Estimand == Estimand.AsTested;

    /// <summary>An outcome as a reader sees it.</summary>
    public static string InWords(Outcome outcome) => outcome switch
    {
        Outcome.Equivalent => "equivalent, no difference detected",
        Outcome.EquivalentDetectable => "equivalent, a real but immaterial difference",
        Outcome.Better => "better in this property",
        Outcome.Worse => "worse in this property",
        Outcome.Higher => "higher by more than the margin",
        Outcome.Lower => "lower by more than the margin",
        Outcome.DifferentOpen => "different, size not settled",
        Outcome.Inconclusive => "inconclusive",
        _ => "no verdict",
    };

    private static string Subject(Estimand estimand) => estimand switch
    {
        Estimand.EqualHardness => "The comparison at equal hardness",
        Estimand.Sources => "The comparison of the sources in general",
        _ => "The comparison",
    };
}
