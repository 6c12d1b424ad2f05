using System.Text.Json.Serialization;
using Meltwise.Casework.Judging;

namespace Meltwise.Casework.Studying;

/// <summary>The result of a treatment study, as page, terminal, report and JSON read it.</summary>
public sealed record Study
{
    /// <summary>Property.</summary>
    public required string Property { get; init; }

    /// <summary>Unit of the means and differences.</summary>
    public required string Unit { get; init; }

    /// <summary><c>log</c>: ratios of geometric means; <c>linear</c>: differences.</summary>
    public required string Scale { get; init; }

    /// <summary>Columns that made the groups.</summary>
    public required IReadOnlyList<string> By { get; init; }

    /// <summary>The control; null where all pairs are compared.</summary>
    public string? Control { get; init; }

    /// <summary>Groups with their means.</summary>
    public required IReadOnlyList<StudiedGroup> Groups { get; init; }

    /// <summary>Simultaneous comparisons.</summary>
    public required IReadOnlyList<StudiedPair> Comparisons { get; init; }

    /// <summary>Standard deviation of each random part on the analysis scale, by name; empty with one heat.</summary>
    public required IReadOnlyDictionary<string, double> Scatter { get; init; }

    /// <summary>Values of the ordered levels; null where they are taken as equally spaced.</summary>
    public IReadOnlyList<double>? LevelValues { get; init; }

    /// <summary>Unit of those values; null without one.</summary>
    public string? LevelUnit { get; init; }

    /// <summary>Linear change from the first level to the last.</summary>
    public ChangeOverLevels? ChangeOverLevels { get; init; }

    /// <summary>Change per level, or per unit of the levels' values: a ratio on a logarithmic scale, a difference on a linear one.</summary>
    public double? ChangePerLevel { get; init; }

    /// <summary>Lower limit of its 95 % interval; one contrast, not simultaneous with the comparisons.</summary>
    public double? ChangePerLevelLower { get; init; }

    /// <summary>Upper limit of its 95 % interval.</summary>
    public double? ChangePerLevelUpper { get; init; }

    /// <summary>p value of no linear change.</summary>
    public double? ChangePerLevelP { get; init; }

    /// <summary>The ordered levels asked about; null without an order.</summary>
    public IReadOnlyList<string>? Order { get; init; }

    /// <summary>Margin on the scale of the comparisons: ratios, or differences; empty in a study kept by an earlier version.</summary>
    public IReadOnlyList<double> Margin { get; init; } = [];

    /// <summary>Every coupon used, for figures.</summary>
    [JsonIgnore]
    public IReadOnlyList<StudiedCoupon> Coupons { get; init; } = [];

    /// <summary>Level from which on all pairs agree within the margin; null where that is not shown or not asked.</summary>
    public string? NoChangeBeyond { get; init; }

    /// <summary>How the intervals were made.</summary>
    public required string Method { get; init; }

    /// <summary>Rows not used, by reason.</summary>
    public required IReadOnlyDictionary<string, int> LeftOut { get; init; }

    /// <summary>What a reader must know.</summary>
    public required IReadOnlyList<string> Notes { get; init; }
}

/// <summary>A linear change over all levels of a study: ratios, or differences on a linear scale.</summary>
/// <param name="Estimate">From the first level to the last.</param>
/// <param name="Lower">Lower limit of its 95 % interval.</param>
/// <param name="Upper">Upper limit.</param>
public sealed record ChangeOverLevels(double Estimate, double Lower, double Upper);

/// <summary>A group of a study.</summary>
/// <param name="Name">Group.</param>
/// <param name="N">Coupons.</param>
/// <param name="Heats">Heats.</param>
/// <param name="Mean">Geometric mean on a logarithmic scale, mean on a linear one; heats drawn at random where there are several.</param>
/// <param name="HardnessHrc">Mean hardness of its coupons, HRC; null where none was read or hardness itself is studied.</param>
public sealed record StudiedGroup(string Name, int N, int Heats, double Mean, double? HardnessHrc = null);

/// <summary>A coupon of a study.</summary>
/// <param name="Group">Its group.</param>
/// <param name="Heat">Its heat.</param>
/// <param name="Coupon">Its name.</param>
/// <param name="Value">Its value, in the unit of the study.</param>
public sealed record StudiedCoupon(string Group, string Heat, string Coupon, double Value);

/// <summary>Two groups compared, simultaneously with the others.</summary>
/// <param name="First">The group compared with; the control where there is one.</param>
/// <param name="Second">The group compared.</param>
/// <param name="Ratio">Second over first with the wide simultaneous interval; null on a linear scale.</param>
/// <param name="RatioForMargin">The same with the narrow interval.</param>
/// <param name="Difference">Second less first with the wide interval; null on a logarithmic scale.</param>
/// <param name="DifferenceForMargin">The same with the narrow interval.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom.</param>
/// <param name="P">Simultaneous p value of no difference.</param>
/// <param name="Outcome">Outcome by the decision table.</param>
/// <param name="Text">The comparison as a sentence.</param>
/// <param name="HardnessDifference">Second less first, HRC; null where hardness was not read in both.</param>
public sealed record StudiedPair(string First, string Second, RatioInterval? Ratio, RatioInterval? RatioForMargin, DifferenceInterval? Difference, DifferenceInterval? DifferenceForMargin,
    double DegreesOfFreedom, double P, Outcome Outcome, string Text, double? HardnessDifference = null);
