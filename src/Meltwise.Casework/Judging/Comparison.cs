using System.Reflection;
using Meltwise.Domain;
using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Trend;

namespace Meltwise.Casework.Judging;

/// <summary>From coupon tables and a rule to a verdict: gates, scatter law, the three estimands, suspects, firmness, what would settle it, and the words.</summary>
/// <remarks>The order of the steps is that of the method page on the verdict; each step is a file in <c>Steps</c>, all words are made in <c>Wording</c>.</remarks>
public static class Comparison
{
    private static readonly string s_version = typeof(Comparison).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? "unknown";

    /// <summary>Judges. The same rows give the same verdict to the last digit, whatever their order; the one random thing in it is shown only and has a fixed seed.</summary>
    /// <param name="input">Coupons, history, rule and roles.</param>
    /// <param name="cancel">Cancels between steps.</param>
    /// <exception cref="ComparisonFaultException">The comparison cannot be set up; the message says what was found and expected.</exception>
    public static Verdict Judge(ComparisonInput input, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(input);
        Verdict first = JudgeProperty(input, cancel);
        return input.Rule.OtherProperties().Any() ? OtherPropertiesStep.Join(first, input, other => JudgeProperty(other, cancel)) : first;
    }

    private static Verdict JudgeProperty(ComparisonInput input, CancellationToken cancel)
    {
        ResolvedRule rule = ResolvedRule.From(input.Rule, LotReader.SharedUnit(input), LotReader.LargestLot(input));
        LotReading reading = new LotReader(input, rule).Read();
        LotData lots = new(reading.Entering, rule);
        Stratum stratum = StratumCheck.Of(input.Lots, lots.Coupons, rule);
        HistoryMatch? history = HistoryMatch.Of(input, lots.Coupons, rule);
        Assessment main = new(lots, stratum, history, input.UnverifiedInstruments, cancel);
        Assessment? undone = reading.Excluded.Count == 0 ? null
            : new(new LotData(reading.Entering.Concat(reading.Excluded), rule), stratum, history, input.UnverifiedInstruments, cancel);
        cancel.ThrowIfCancellationRequested();
        return Assemble(input, reading, stratum, history, main, undone);
    }

    private static Verdict Assemble(ComparisonInput input, LotReading reading, Stratum stratum, HistoryMatch? history, Assessment main, Assessment? undone)
    {
        LotContrast? contrast = main.AsTestedStep?.Contrast;
        LadderStep? ladder = main.LadderStep is { Refusal: null } stands ? stands : null;
        double?[] change = contrast is not null ? FirmnessStep.ChangeWithoutEach(main.Lots, contrast) : ladder?.ChangeWithoutEach(main.Lots.Rule) ?? new double?[main.Lots.Coupons.Count];
        (Variants? variants, IReadOnlyDictionary<string, Outcome>? flips) = Firmness(main, undone?.Outcome);
        DecisionRule rule = input.Rule;
        string[] ofSessions = [.. SessionErrorStep.Say(main, rule, input.HardnessSessions)];
        ShownOnly? shown = input.IsBeside ? null : ShownStep.Of(main);
        Verdict verdict = new()
        {
            Rule = Applied(input, main.Rule),
            Stratum = stratum,
            History = history?.Use,
            Lots = [LotSummary.Of(main.Lots, false, contrast, change, input), LotSummary.Of(main.Lots, true, contrast, change, input)],
            ScatterLaw = main.Scatter?.Result,
            Lent = main.AsTestedStep?.Lent,
            Censored = main.Censored,
            Suspects = main.Lots.HasBounds ? [] : SuspectsStep.Find(main.Lots, change),
            LeftOut = reading.LeftOut,
            WithExcluded = undone?.AsTested is { } back ? new(undone.Outcome, undone.Main?.Ratio ?? back.Ratio, undone.Main?.Difference ?? back.Difference) : null,
            AsTested = main.AsTested,
            EqualHardness = main.EqualHardness is { Stands: true } equal && rule.Estimand != Estimand.EqualHardness ? equal with { Notes = [.. equal.Notes, .. ofSessions] } : main.EqualHardness,
            Sources = main.Sources,
            LeaveOneOut = flips,
            Variants = variants,
            ShownOnly = shown,
            Finding = new() { Outcome = main.Outcome, Answer = main.Stopped is null ? main.Main?.Answer : null, Text = "", CouponsToSettle = ToSettle(main) },
            Notes = [.. reading.Notes, .. input.InstrumentNotes, .. rule.Estimand == Estimand.EqualHardness ? ofSessions : [], .. input.HistoryChangedSinceLock ? new[] { "The history has changed since the rule was locked: coupons were added or corrected, and this verdict uses it as it is now." } : []],
            Reproduction = Reproduce(input, shown?.Bca is null ? null : ShownStep.Seed),
        };
        EarlierPair? own = input.Standing is RuleStanding.Locked or RuleStanding.LockedLate or RuleStanding.Amended ? PairsStep.EffectOf(verdict, "this enquiry") : null;
        verdict = verdict with { Pairs = PairsStep.Of(input.EarlierPairs, own, main.Rule) };
        return VerdictWords.Complete(verdict, main.Refusal, input, main.Rule);
    }

    private static (Variants?, IReadOnlyDictionary<string, Outcome>?) Firmness(Assessment main, Outcome? undone)
    {
        if (main.Main is not { Stands: true, Outcome: { } outcome }) return (null, null);
        if (main.LadderStep is { } ladder) return ladder.Firmness(outcome, undone, main.Lots.Rule);
        if (main.AsTestedStep is not { } asTested) return (null, null);
        FirmnessStep step = new(main.Lots, asTested, main.Scatter!, main.Rule);
        SlopeOnHardness? slope = main.Rule.Kind == MarginKind.Hardness ? main.EqualHardnessStep!.Slope : null;
        return main.Rule.Rule.Estimand switch
        {
            Estimand.AsTested => (step.AsTested(outcome, undone, slope), step.Flips),
            Estimand.EqualHardness => (step.EqualHardness(outcome, main.EqualHardnessStep!), null),
            _ => (main.SourcesStep!.Variants(outcome), null),
        };
    }

    private static CouponsToSettle? ToSettle(Assessment main)
    {
        if (main.Outcome is not (Outcome.Inconclusive or Outcome.DifferentOpen) || main.Rule.Rule.Estimand == Estimand.Sources) return null;
        if (main.LadderStep is { } ladder) return ladder.ToSettle();
        if (main.AsTestedStep is not { } asTested) return null;
        bool atEqualHardness = main.Rule.Rule.Estimand == Estimand.EqualHardness;
        SlopeOnHardness? slope = atEqualHardness ? main.EqualHardnessStep!.Slope : null;
        double seen = asTested.Contrast.Estimate - (slope is { } s ? s.Slope * main.EqualHardnessStep!.HardnessDifference : 0);
        VariancePart? part = slope is { } b ? new("slope", Math.Pow(main.EqualHardnessStep!.HardnessDifference * b.StandardError, 2), b.DegreesOfFreedom) : null;
        return SettleStep.Coupons(asTested.Contrast, seen, main.Rule.Limits, main.Rule.Alpha, part);
    }

    private static AppliedRule Applied(ComparisonInput input, ResolvedRule rule) => new()
    {
        Property = rule.Property.Name,
        Unit = rule.Unit,
        Scale = rule.IsLog ? "log" : "linear",
        Estimand = rule.Rule.Estimand.Code(),
        Question = rule.Rule.Question.Code(),
        Scatter = rule.Rule.Scatter.Code(),
        Alpha = rule.Alpha,
        Look = rule.Look,
        MarginKind = rule.Kind switch { MarginKind.Absolute => "absolute", MarginKind.Hardness => "hardness", _ => "ratio" },
        MarginLow = rule.IsLog && rule.Low > 0 ? rule.Low : null,
        MarginHigh = rule.IsLog && rule.High > 0 ? rule.High : null,
        MarginAbs = rule.PlusMinus > 0 ? rule.PlusMinus : null,
        MarginHrc = rule.Kind == MarginKind.Hardness ? rule.Hrc : null,
        HigherIsBetter = rule.HigherIsBetter,
        SessionSd = rule.SessionSd,
        SessionSdFrom = rule.Rule.SessionSdFrom,
        LadderSlope = rule.Rule.LadderSlope ? true : null,
        Standing = input.Standing switch { RuleStanding.Locked => "locked", RuleStanding.LockedLate => "locked late", RuleStanding.Amended => "amended", RuleStanding.Unlocked => "unlocked", _ => "not stamped" },
        LockedAtUtc = input.Standing switch { RuleStanding.Locked l => l.AtUtc, RuleStanding.LockedLate l => l.AtUtc, RuleStanding.Amended a => a.LockedAtUtc, _ => null },
        Digest = DigestOf(input.Standing),
    };

    private static Reproduction Reproduce(ComparisonInput input, int? seed) => new(
        s_version, DataDigest.Of(input.Lots.Rows.Where(r => LotReader.RoleOf(input, r) is not null)), input.History is { } history ? DataDigest.Of(history.Rows) : null, seed, DigestOf(input.Standing));

    private static string? DigestOf(RuleStanding standing) => standing switch { RuleStanding.Locked l => l.Digest, RuleStanding.LockedLate l => l.Digest, RuleStanding.Amended a => a.Digest, _ => null };
}
