using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.ScatterLaw;

namespace Meltwise.Casework.Judging;

/// <summary>Step 2: the scatter law of the history, and whether it lends.</summary>
internal sealed class ScatterStep
{
    private const int GroupsToLend = 10, DegreesToLend = 30;

    public ScatterStep(HistoryMatch? history, ResolvedRule rule) : this(history?.ScatterGroups, rule) { }

    /// <summary>From the groups of the history; null without one.</summary>
    public ScatterStep(IReadOnlyList<ScatterGroup>? history, ResolvedRule rule)
    {
        IReadOnlyList<ScatterGroup> groups = history ?? [];
        Law = rule.IsLog ? GammaVarianceLaw.Fit(groups) : null;
        if (Law is null)
        {
            Result = new() { Exponent = 1, Source = "assumed", Groups = history is null ? null : groups.Count };
            return;
        }
        double prior = LentDegreesOfFreedom.PriorLowerLimit(groups, Law);
        Lent = LentDegreesOfFreedom.Lent(prior, Law.DegreesOfFreedom);
        MayLend = Law.Groups >= GroupsToLend && Law.DegreesOfFreedom >= DegreesToLend;
        Result = new()
        {
            Exponent = Law.Exponent,
            Interval = Law.Interval is { } i ? new(i.Lower, i.Upper) : null,
            StandardError = Law.StandardError,
            Source = Law.IsEstimated ? "history" : "assumed",
            Groups = Law.Groups,
            DegreesOfFreedom = Law.DegreesOfFreedom,
            Dispersion = Law.Dispersion,
            MeanLog = Law.MeanLog,
            LogVarianceAtMean = Law.LogVarianceAtMean,
            SlopeOfLogVariance = Law.SlopeOfLogVariance,
            PriorDf = prior,
            LentDf = Lent,
            MayLend = MayLend,
        };
    }

    /// <summary>The law, or null when the history gives none.</summary>
    public GammaVarianceLaw? Law { get; }

    /// <summary>Degrees of freedom that may be lent.</summary>
    public double Lent { get; }

    public bool MayLend { get; }

    public ScatterLaw Result { get; }

    /// <summary>The exponent estimated from the history, or null when it is only assumed.</summary>
    public double? EstimatedExponent => Law is { IsEstimated: true } law ? law.Exponent : null;

    /// <summary>What lending would do to the lots: moderated parts, or why none is lent.</summary>
    public (LentScatter Result, IReadOnlyList<VariancePart>? Parts) Lend(LotContrast contrast)
    {
        if (Law is null || !MayLend) return (new(null, null, null, false, null, null, "the history is too small to lend its scatter: own scatter used"), null);
        if (contrast.Kind != LotContrastKind.OwnVariances) return (new(null, null, null, false, null, null, "scatter is lent only with one heat in each role and repeats within loads: own scatter used"), null);
        LotScatter c = contrast.Scatter[0], r = contrast.Scatter[1];
        PerLot law = new(Law.VarianceAt(c.Mean), Law.VarianceAt(r.Mean)), ratio = new(c.Variance / law.Candidate, r.Variance / law.Reference);
        PerLot critical = new(FisherF.Quantile(0.95, c.DegreesOfFreedom, Lent), FisherF.Quantile(0.95, r.DegreesOfFreedom, Lent));
        if (ratio.Candidate > critical.Candidate || ratio.Reference > critical.Reference)
            return (new(law, ratio, critical, false, null, null, "a lot scatters more than the law of the bench allows: own scatter used"), null);
        double Moderated(LotScatter lot, double expected) => (Lent * expected + lot.DegreesOfFreedom * lot.Variance) / (Lent + lot.DegreesOfFreedom);
        PerLot moderated = new(Moderated(c, law.Candidate), Moderated(r, law.Reference));
        VariancePart[] parts = [new(c.Name, moderated.Candidate * c.Unit, Lent + c.DegreesOfFreedom), new(r.Name, moderated.Reference * r.Unit, Lent + r.DegreesOfFreedom)];
        return (new(law, ratio, critical, true, moderated, Lent, null), parts);
    }
}
