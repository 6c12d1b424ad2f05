using Meltwise.Domain;

namespace Meltwise.Casework.Planning;

/// <summary>A further primary property of a plan: the lots must agree in it too.</summary>
public sealed record FurtherPrimary
{
    /// <summary>What is its own: name, margin, scale, good direction, scatter, trend, old heats. All that belongs to the coupons or to the whole rule (numbers, loads, question, error rate, extension, costs,
    /// replicates, seed) is that of the plan and is not read from here.</summary>
    public required PlanRequest Own { get; init; }

    /// <summary>Its true ratio or difference in every line of the plan; null for no difference, for the question better twice the good limit of its margin. Hardness beside a plan at equal hardness has the difference that is planned there.</summary>
    public double? Truth { get; init; }

    /// <summary>Correlation of its readings with those of each property before it on one coupon, the plan's first property first; what is missing is 0. Properties read on coupons of their own do not correlate.</summary>
    public IReadOnlyList<double> Correlations { get; init; } = [];

    /// <summary>What reading it adds to the cost of a coupon.</summary>
    public double CostPerReading { get; init; }

    /// <summary>True for hardness, which is judged as tested whatever the rule asks of the others.</summary>
    internal bool IsHardness => PropertyTable.Find(Own.Property) == PropertyTable.Hardness;

    /// <summary>The request of this property alone, for the coupons of the plan.</summary>
    /// <param name="first">The plan.</param>
    /// <param name="throughHardness">A trend of the plan, whose hardness readings are those of the property where it is hardness itself; null where there is none.</param>
    internal PlanRequest Beside(PlanRequest first, PlannedTrend? throughHardness)
    {
        PlanRequest own = first with
        {
            Property = Own.Property,
            MarginLow = Own.MarginLow,
            MarginHigh = Own.MarginHigh,
            MarginIn = Own.MarginIn,
            ReferenceMean = Own.ReferenceMean,
            Logarithmic = Own.Logarithmic,
            HigherIsBetter = Own.HigherIsBetter,
            Question = Own.HigherIsBetter is null && first.Question is Question.NotWorse or Question.Better ? Question.Equivalent : first.Question,
            Estimand = IsHardness ? Estimand.AsTested : first.Estimand,
            OfTheseHeats = IsHardness,
            Scatter = Own.Law is null ? ScatterChoice.Own : first.Scatter,
            WithinHeatSd = Own.WithinHeatSd,
            CandidateWithinHeatSd = Own.CandidateWithinHeatSd,
            WithinHeatSdDf = Own.WithinHeatSdDf,
            Law = Own.Law,
            HeatSd = Own.HeatSd,
            HeatSdDf = Own.HeatSdDf,
            LoadSd = Own.LoadSd,
            Trend = IsHardness || first.Ladder is not null ? null : Own.Trend,
            Ladder = first.Ladder is { } ladder ? ladder with { Slope = Own.Ladder?.Slope ?? Own.Trend?.Slope ?? 0, SlopeDifference = Own.Ladder?.SlopeDifference ?? 0 } : null,
            History = Own.History,
            Flaws = null,
            WantedAt = null,
            Further = [],
        };
        if (IsHardness && throughHardness is { } t)
            return own with { WithinHeatSd = t.HardnessSd, WithinHeatSdDf = t.HardnessSdDf, CandidateWithinHeatSd = null, Law = null, Truths = [t.HardnessDifference] };
        double truth = Truth ?? (own.Question == Question.Better ? own.Wanted : own.Logarithmic ? 1 : 0);
        return own with { Truths = [truth] };
    }
}
