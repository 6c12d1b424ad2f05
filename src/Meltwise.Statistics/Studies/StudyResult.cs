using System.Globalization;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.MixedModels;

namespace Meltwise.Statistics.Studies;

/// <summary>One coupon of a study.</summary>
/// <param name="Value">Reading on the analysis scale.</param>
/// <param name="Group">Treatment or other group.</param>
/// <param name="Heat">Heat.</param>
/// <param name="Load">Furnace load; null where not recorded.</param>
public sealed record StudyReading(double Value, string Group, string Heat, string? Load);

/// <summary>What a study compares.</summary>
public sealed record StudyPlan
{
    /// <summary>The control group; null compares all pairs.</summary>
    public string? Control { get; init; }

    /// <summary>Lower limit of the margin on the analysis scale, below 0; null where no agreement is asked for.</summary>
    public double? MarginLow { get; init; }

    /// <summary>Upper limit, above 0.</summary>
    public double? MarginHigh { get; init; }

    /// <summary>Whether to look for unequal scatter, single heats that carry a difference, and readings far out; a simulation needs none of it.</summary>
    public bool Diagnosed { get; init; } = true;

    /// <summary>Error rate of the family of claims.</summary>
    public double Alpha { get; init; } = 0.05;

    /// <summary>The groups as ordered, equally spaced levels, such as hold times; null where they have no order.</summary>
    public IReadOnlyList<string>? OrderedGroups { get; init; }

    /// <summary>The value of each ordered level, such as hours or °C; null takes them as equally spaced, one a level.</summary>
    public IReadOnlyList<double>? LevelValues { get; init; }
}

/// <summary>The mean of one group.</summary>
/// <param name="Name">Group.</param>
/// <param name="Coupons">Its coupons.</param>
/// <param name="Heats">Its heats.</param>
/// <param name="Mean">Estimated mean on the analysis scale, heats drawn at random where there are several.</param>
/// <param name="StandardError">Its standard error.</param>
public sealed record StudyGroup(string Name, int Coupons, int Heats, double Mean, double StandardError);

/// <summary>One difference of a study, simultaneous with the others.</summary>
public sealed record StudyComparison
{
    internal StudyComparison(string first, string second, double difference, double standardError, double df, double wide, double narrow, double p, StudyPlan plan)
    {
        (First, Second, Difference, StandardError, DegreesOfFreedom, P) = (first, second, difference, standardError, df, p);
        (Lower, Upper, NarrowLower, NarrowUpper) = (difference - wide, difference + wide, difference - narrow, difference + narrow);
        Excludes = Lower > 0 || Upper < 0;
        InsideMargin = plan.MarginLow is { } low && plan.MarginHigh is { } high ? NarrowLower > low && NarrowUpper < high : null;
        BeyondMargin = plan.MarginLow is { } l && plan.MarginHigh is { } h ? Lower > h || Upper < l : null;
    }

    /// <summary>The group subtracted; the control where there is one.</summary>
    public string First { get; }

    /// <summary>The group it is subtracted from.</summary>
    public string Second { get; }

    /// <summary>Second less first, on the analysis scale.</summary>
    public double Difference { get; }

    /// <summary>Its standard error.</summary>
    public double StandardError { get; }

    /// <summary>Degrees of freedom.</summary>
    public double DegreesOfFreedom { get; }

    /// <summary>Simultaneous p value of no difference.</summary>
    public double P { get; }

    /// <summary>Lower limit of the wide simultaneous interval.</summary>
    public double Lower { get; }

    /// <summary>Upper limit of the wide simultaneous interval.</summary>
    public double Upper { get; }

    /// <summary>Lower limit of the narrow simultaneous interval, held against the margin.</summary>
    public double NarrowLower { get; }

    /// <summary>Upper limit of the narrow simultaneous interval.</summary>
    public double NarrowUpper { get; }

    /// <summary>True where the wide interval excludes no difference.</summary>
    public bool Excludes { get; }

    /// <summary>True where the narrow interval lies inside the margin; null without a margin.</summary>
    public bool? InsideMargin { get; }

    /// <summary>True where the wide interval lies wholly beyond a limit; null without a margin.</summary>
    public bool? BeyondMargin { get; }

    /// <summary>The comparison as a sentence.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture,
        $"{Second} less {First}: {Difference:G4} ({Lower:G4} to {Upper:G4}), p = {P:G3}");
}

/// <summary>Linear change over ordered levels.</summary>
/// <param name="PerLevel">Change per level, or per unit of the levels' values.</param>
/// <param name="StandardError">Its standard error.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom.</param>
public sealed record StudyTrend(double PerLevel, double StandardError, double DegreesOfFreedom)
{
    /// <summary>Half-width of its two-sided interval at a level such as 0.95; one contrast, not simultaneous with the differences.</summary>
    public double HalfWidth(double level) => StudentT.Quantile(0.5 + level / 2, DegreesOfFreedom) * StandardError;

    /// <summary>Two-sided p value of no linear change.</summary>
    public double P => StudentT.TwoSided(PerLevel / StandardError, DegreesOfFreedom);
}

/// <summary>The result of a study.</summary>
/// <param name="Groups">Means.</param>
/// <param name="Comparisons">Simultaneous differences.</param>
/// <param name="Components">Variance components, residual last; empty with one heat.</param>
/// <param name="Trend">Linear change over ordered levels; null where they have no order.</param>
/// <param name="NoChangeBeyond">The level from which on all pairs agree within the margin; null where that is not shown.</param>
/// <param name="Method">How the intervals were made.</param>
/// <param name="Notes">What a reader must know.</param>
public sealed record StudyResult(IReadOnlyList<StudyGroup> Groups, IReadOnlyList<StudyComparison> Comparisons, IReadOnlyList<VarianceComponent> Components,
    StudyTrend? Trend, string? NoChangeBeyond, string Method, IReadOnlyList<string> Notes)
{
    /// <summary>What each heat does to the comparisons, the largest change first; empty with one heat or where the rest cannot carry the model.</summary>
    public IReadOnlyList<HeatInfluence> Influence { get; init; } = [];

    /// <summary>Readings whose conditional residual exceeds 3 of its standard errors; nothing is left out for it.</summary>
    public IReadOnlyList<SuspectReading> Suspects { get; init; } = [];
}

/// <summary>The comparison that changes most without one heat.</summary>
/// <param name="Heat">The heat left out.</param>
/// <param name="First">Group compared with.</param>
/// <param name="Second">Group compared.</param>
/// <param name="Change">Change of second less first, on the analysis scale.</param>
/// <param name="InStandardErrors">The change over the comparison's standard error.</param>
public sealed record HeatInfluence(string Heat, string First, string Second, double Change, double InStandardErrors);

/// <summary>A reading far from the level of its own heat and group.</summary>
/// <param name="Index">Its place among the readings.</param>
/// <param name="Group">Its group.</param>
/// <param name="Heat">Its heat.</param>
/// <param name="StudentizedResidual">Conditional residual over its standard error.</param>
public sealed record SuspectReading(int Index, string Group, string Heat, double StudentizedResidual);
