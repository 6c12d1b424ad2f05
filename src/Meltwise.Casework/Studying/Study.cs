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

    /// <summary>Change per level: a ratio on a logarithmic scale, a difference on a linear one.</summary>
    public double? ChangePerLevel { get; init; }

    /// <summary>p value of no linear change.</summary>
    public double? ChangePerLevelP { get; init; }

    /// <summary>Level from which on all pairs agree within the margin; null where that is not shown or not asked.</summary>
    public string? NoChangeBeyond { get; init; }

    /// <summary>How the intervals were made.</summary>
    public required string Method { get; init; }

    /// <summary>Rows not used, by reason.</summary>
    public required IReadOnlyDictionary<string, int> LeftOut { get; init; }

    /// <summary>What a reader must know.</summary>
    public required IReadOnlyList<string> Notes { get; init; }
}

/// <summary>A group of a study.</summary>
/// <param name="Name">Group.</param>
/// <param name="N">Coupons.</param>
/// <param name="Heats">Heats.</param>
/// <param name="Mean">Geometric mean on a logarithmic scale, mean on a linear one.</param>
public sealed record StudiedGroup(string Name, int N, int Heats, double Mean);

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
public sealed record StudiedPair(string First, string Second, RatioInterval? Ratio, RatioInterval? RatioForMargin, DifferenceInterval? Difference, DifferenceInterval? DifferenceForMargin,
    double DegreesOfFreedom, double P, Outcome Outcome, string Text);
