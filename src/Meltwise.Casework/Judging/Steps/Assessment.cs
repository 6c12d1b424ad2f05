using Meltwise.Domain;
using Meltwise.Statistics;
using Meltwise.Statistics.Censored;
using Meltwise.Statistics.Comparison;

namespace Meltwise.Casework.Judging;

/// <summary>One pass over steps 1 to 5 for one set of coupons: the gates, then the three estimands.</summary>
internal sealed class Assessment
{
    private const int FewestCoupons = 3;

    private readonly HistoryMatch? _history;

    public Assessment(LotData lots, Stratum stratum, HistoryMatch? history, IReadOnlyList<string> unverified, CancellationToken cancel)
    {
        (Lots, Rule, _history) = (lots, lots.Rule, history);
        if (stratum.Differences.Count > 0 && unverified.Count == 0 && JudgeLadder(stratum)) return;
        if (Gate(stratum, unverified)) return;
        cancel.ThrowIfCancellationRequested();
        Scatter = new(history, Rule);
        if (lots.HasBounds)
        {
            JudgeCensored();
            return;
        }
        AsTestedStep = new(lots, Scatter);
        if (!AsTestedStep.HasScatter)
        {
            Stop(Reason.ZeroScatter, "all readings of a lot are equal, so that its scatter cannot be estimated. Read to a finer digit, or test more coupons");
            return;
        }
        cancel.ThrowIfCancellationRequested();
        EqualHardnessStep = new(lots, AsTestedStep, history);
        Judge();
    }

    public LotData Lots { get; }

    /// <summary>The rule, with ratio limits in place of an absolute or hardness margin once they are known.</summary>
    public ResolvedRule Rule { get; private set; }

    /// <summary>The gate that failed.</summary>
    public (Reason Reason, string Missing)? Stopped { get; private set; }

    public ScatterStep? Scatter { get; }
    public AsTestedStep? AsTestedStep { get; }
    public EqualHardnessStep? EqualHardnessStep { get; }

    /// <summary>The comparison over the lots' own temper ladder; null when they have none.</summary>
    public LadderStep? LadderStep { get; private set; }
    public SourcesStep? SourcesStep { get; private set; }
    public CensoredLots? Censored { get; private set; }
    public AsTested? AsTested { get; private set; }
    public EqualHardness? EqualHardness { get; private set; }
    public SourcesInGeneral? Sources { get; private set; }

    /// <summary>The estimand of the rule, or null when a gate failed before it.</summary>
    public EstimandResult? Main => Rule.Rule.Estimand switch { Estimand.EqualHardness => EqualHardness, Estimand.Sources => Sources, _ => AsTested };

    /// <summary>The outcome of the rule's estimand.</summary>
    public Outcome Outcome => Stopped is null && Main is { Stands: true, Outcome: { } outcome } ? outcome : Judging.Outcome.NoVerdict;

    /// <summary>Why there is no verdict; null when there is one.</summary>
    public (Reason Reason, string Missing)? Refusal =>
        Stopped ?? (Main is { Refused: { } reason } refused ? (reason, refused.Missing ?? "the question that the rule names cannot be answered") : null);

    private bool Gate(Stratum stratum, IReadOnlyList<string> unverified)
    {
        if (unverified.Count > 0) return Stop(Reason.InstrumentNotVerified, $"an instrument had no valid verification: {string.Join("; ", unverified)}");
        if (stratum.Differences.Count > 0)
            return Stop(Reason.StrataDiffer, Rule.Rule.Estimand == Estimand.EqualHardness && EqualHardness?.Missing is { } ladder ? $"{Unlike(stratum)}. {ladder}" : Unlike(stratum));
        int fewest = Math.Min(Lots.Count(true), Lots.Count(false));
        if (fewest == 0)
        {
            string lot = Lots.Coupons.Count == 0 ? "no coupon of either lot" : $"no coupon of the {(Lots.Count(true) == 0 ? "candidate" : "reference")}";
            return Stop(Reason.TooFew, $"{lot} has a valid reading of {Rule.Property.Name} and at least {FewestCoupons} a lot are needed");
        }
        if (fewest < FewestCoupons) return Stop(Reason.TooFew, $"a lot has {fewest} valid {(fewest == 1 ? "coupon" : "coupons")} and at least {FewestCoupons} are needed");
        if (Lots.SeveralHeats)
        {
            for (int h = 0; h < Lots.Heats.Count; h++)
                if (Lots.Heat.Count(x => x == h) < 2) return Stop(Reason.TooFew, $"heat {Lots.Heats[h]} has a single valid coupon, and its scatter needs two");
            return false;
        }
        if (Lots.Contrast(Lots.Z) is not { } contrast) return Stop(Reason.ConfoundedLoads, "no furnace load holds both lots, so that lot and load cannot be separated");
        for (int side = 0; side < 2; side++)
        {
            int enter = Enumerable.Range(0, Lots.Coupons.Count).Count(i => Lots.Candidate[i] == (side == 1) && contrast.Coefficients[i] != 0);
            if (enter < FewestCoupons) return Stop(Reason.TooFew, $"a lot has {enter} coupons in the loads that hold both lots, and at least {FewestCoupons} are needed");
        }
        return contrast.Scatter.Any(s => s.DegreesOfFreedom < 2) && Stop(Reason.TooFew, "lots and loads leave fewer than 2 degrees of freedom for the scatter");
    }

    private bool Stop(Reason reason, string missing)
    {
        Stopped = (reason, missing);
        AsTested ??= new() { Refused = reason, Missing = missing };
        return true;
    }

    private static string Unlike(Stratum stratum) => $"the coupons are not of one kind: {string.Join("; ", stratum.Differences)}";

    /// <summary>Lots that differ in treatment only, both over one ladder: equal hardness is judged by it, all else is refused. False when they are no such lots.</summary>
    private bool JudgeLadder(Stratum stratum)
    {
        (LotLadder? ladder, string? missing) = LotLadder.Of(Lots);
        if (ladder is null)
        {
            if (missing is not null) EqualHardness = new() { Refused = Reason.StrataDiffer, Missing = missing };
            return false;
        }
        LadderStep = new(Lots, ladder, Rule, _history);
        string unlike = Unlike(stratum);
        AsTested = new() { Refused = Reason.StrataDiffer, Missing = $"{unlike}. Over a temper ladder only equal hardness is judged" };
        EqualHardness = LadderStep.Result;
        Sources = new() { Refused = Reason.StrataDiffer, Missing = unlike };
        Rule = LadderStep.Rule;
        return true;
    }

    private void Judge()
    {
        AsTestedStep a = AsTestedStep!;
        EqualHardnessStep b = EqualHardnessStep!;
        if (Rule.Kind == MarginKind.Absolute && Rule.IsLog)
        {
            double share = Rule.PlusMinus / Lots.Mean(Lots.Y, false);
            Rule = Rule.WithRatio(Math.Max(1 - share, double.Epsilon), 1 + share);
        }
        if (Rule.Kind == MarginKind.Hardness && !ResolveHardnessMargin(b)) return;

        JudgedContrast judged = a.Judge(Rule);
        if (Rule.Kind == MarginKind.Hardness) judged = judged.AgainstHardness(a.Contrast.Estimate, 0, a.Parts, b.Slope!.Value);
        AsTested = a.Result(judged, Scatter!);
        EqualHardness = b.Refusal ?? b.Result(AtEqualHardness(b.Slope!.Value), Rule);
        SourcesStep = new(Lots, b, _history, Rule);
        Sources = SourcesStep.Result;
    }

    /// <summary>The comparison at equal hardness with a slope.</summary>
    /// <param name="slope">The slope.</param>
    /// <param name="supposedSessionSd">A scatter of hardness between sessions, HRC, that is supposed where the rule names none.</param>
    public JudgedContrast AtEqualHardness(Statistics.Trend.SlopeOnHardness slope, double supposedSessionSd = 0)
    {
        (AsTestedStep a, EqualHardnessStep b) = (AsTestedStep!, EqualHardnessStep!);
        IReadOnlyList<VariancePart> parts = Rule.Rule.SeparateSessions && supposedSessionSd > 0
            ? [.. a.Parts, new("session", 2 * slope.Slope * slope.Slope * supposedSessionSd * supposedSessionSd, double.PositiveInfinity)]
            : a.Parts;
        return b.JudgeByMargin(Rule, slope, parts, a.Contrast.Estimate);
    }

    /// <summary>Turns c HRC into the property through the trend; false, with the verdict stopped, when the slope is not shown to be below 0.</summary>
    private bool ResolveHardnessMargin(EqualHardnessStep b)
    {
        if (b.Refusal is { } refusal)
        {
            EqualHardness = refusal;
            Stop(Reason.MarginNotResolved, $"the margin is in hardness and there is no usable trend ({refusal.Missing})");
            return false;
        }
        Statistics.Trend.SlopeOnHardness slope = b.Slope!.Value;
        double change = Rule.Hrc * Math.Abs(slope.Slope);
        Rule = Rule.IsLog ? Rule.WithRatio(Math.Exp(-change), Math.Exp(change)) : Rule with { PlusMinus = change };
        if (new ContrastEstimate(slope.Slope, slope.StandardError, slope.DegreesOfFreedom).Interval(0.95).Upper < 0) return true;
        EqualHardness = b.Result(b.Judge(Rule, slope, AsTestedStep!.Parts, AsTestedStep.Contrast.Estimate), Rule) with { Refused = Reason.MarginNotResolved, Missing = "The slope's 95 % interval is not below 0." };
        Stop(Reason.MarginNotResolved, "the margin is in hardness and the slope's 95 % interval is not below 0, so that the margin has no size in the property");
        return false;
    }

    /// <summary>Lots with bounds among the readings: question A only, one load, nothing lent.</summary>
    private void JudgeCensored()
    {
        if (Rule.Kind != MarginKind.Ratio && Rule.IsLog)
        {
            Stop(Reason.TooManyCensored, "some coupons have only a bound, and the agreed margin is not a ratio: every coupon must then have a value");
            return;
        }
        CensoredNormal? candidate = Censor(true), reference = Censor(false);
        if (candidate is not null && reference is not null) Censored = new(Describe(candidate), Describe(reference));
        if (candidate is null || reference is null || TooMany(candidate) || TooMany(reference))
        {
            Stop(Reason.TooManyCensored, "fewer than 3, or fewer than half, of a lot's coupons have a value. The others only have a bound (above the machine's range, not broken, below detection)");
            return;
        }
        VariancePart[] parts = [new("candidate", candidate.MeanVariance, candidate.DegreesOfFreedom), new("reference", reference.MeanVariance, reference.DegreesOfFreedom)];
        List<string> notes = ["Some coupons have only a bound: each lot's mean and scatter by maximum likelihood of a censored normal sample; question A only."];
        if (Lots.Loads.Count > 1) notes.Add("Furnace loads are not used with bounds among the readings.");
        if (Lots.SeveralHeats) notes.Add("The heats of a role are taken together with bounds among the readings.");
        if (Rule.Rule.Scatter == ScatterChoice.Lent) notes.Add("No scatter is lent with bounds among the readings.");
        AsTested = new AsTested(JudgedContrast.From(candidate.Mean - reference.Mean, parts, Rule)) { Method = "censored maximum likelihood", Notes = notes };
        const string only = "Some coupons have only a bound, and then only the comparison as tested is made.";
        EqualHardness = new() { Refused = Reason.TooManyCensored, Missing = only };
        Sources = new() { Refused = Reason.TooManyCensored, Missing = only };
    }

    private CensoredNormal? Censor(bool candidate)
    {
        int[] places = [.. Enumerable.Range(0, Lots.Coupons.Count).Where(i => Lots.Candidate[i] == candidate)];
        double[] z = [.. places.Select(i => Lots.Z[i])];
        Bound[] bounds = [.. places.Select(i => Lots.Coupons[i].Bound switch { Censoring.Above => Bound.Above, Censoring.Below => Bound.Below, _ => Bound.None })];
        try
        {
            return CensoredNormal.Fit(z, bounds);
        }
        catch (InsufficientDataException)
        {
            return null;
        }
    }

    private static bool TooMany(CensoredNormal lot) => lot.Uncensored < 3 || lot.Uncensored * 2 < lot.Count;

    private static CensoredLot Describe(CensoredNormal lot) => new(lot.Mean, lot.StandardDeviation, lot.MeanVariance, lot.DegreesOfFreedom, lot.Uncensored, lot.Count);
}
