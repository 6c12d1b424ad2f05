using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Grades;

/// <summary>Limits of one element in a standard grade, mass percent.</summary>
/// <param name="Element">Element.</param>
/// <param name="Lowest">Lowest; 0 where the standard gives only a maximum.</param>
/// <param name="Highest">Highest.</param>
public readonly record struct ElementLimits(AlloyElement Element, double Lowest, double Highest);

/// <summary>A standard grade with its heat-analysis limits.</summary>
/// <param name="Designation">Standard designation.</param>
/// <param name="Specification">Standard.</param>
/// <param name="Limits">By element.</param>
/// <param name="Source">Source and how far it was checked.</param>
/// <param name="Note">A remark on the limits, or null.</param>
public sealed record Grade(string Designation, string Specification, IReadOnlyList<ElementLimits> Limits, Source Source, string? Note)
{
    /// <summary>The middle of every range.</summary>
    public AlloyContent Middle
    {
        get
        {
            AlloyContent middle = default;
            foreach (ElementLimits l in Limits) middle[l.Element] = (l.Lowest + l.Highest) / 2;
            return middle;
        }
    }
}

/// <summary>Composition limits of standard tool-steel designations.</summary>
/// <remarks>
/// <para><b>Content.</b> Heat-analysis limits of ASTM A600, A681 and A276 and of ISO 4957; phosphorus and sulphur are not held, nor the tolerances of product analysis.</para>
/// <para><b>Limits.</b> Nearly all from memory: check against the edition in force before a pass or fail is shown as a requirement.</para>
/// </remarks>
public static class GradeCatalogue
{
    private static readonly GradeFile s_file = ShippedTable.Read<GradeFile>("Grades.limits.json");

    /// <summary>All grades.</summary>
    public static IReadOnlyList<Grade> All { get; } = [.. s_file.Rows.Select(r => new Grade(r.Designation, r.Specification,
        [.. r.Limits.Select(l => new ElementLimits(Enum.Parse<AlloyElement>(l.Key), l.Value[0], l.Value[1]))],
        new($"{r.Specification}, limits of heat analysis", r.Status ?? s_file.Status), s_file.Notes.GetValueOrDefault(r.Designation)))];

    /// <summary>The grade of a designation; letter case and spaces do not matter.</summary>
    /// <exception cref="ArgumentException">Not in the catalogue; the message offers the like-named ones.</exception>
    public static Grade Find(string designation)
    {
        ArgumentNullException.ThrowIfNull(designation);
        string wanted = Plain(designation);
        return All.FirstOrDefault(g => Plain(g.Designation) == wanted)
            ?? throw new ArgumentException(NotFound(designation, [.. All.Where(g => Plain(g.Designation).Contains(wanted, StringComparison.Ordinal)).Select(g => g.Designation)]), nameof(designation));
    }

    private static string NotFound(string designation, IReadOnlyList<string> like) => like.Count > 0
        ? $"No grade is called {designation}. Did you mean {string.Join(", ", like)}?"
        : $"No grade is called {designation}. The catalogue holds {All.Count} designations of ASTM A600, A681, A276 and ISO 4957.";

    private static string Plain(string designation) => designation.Replace(" ", "", StringComparison.Ordinal).ToUpperInvariant();

    private sealed record GradeFile(string Unit, SourceStatus Status, Dictionary<string, string> Notes, List<GradeRow> Rows);

    private sealed record GradeRow(string Designation, string Specification, Dictionary<string, double[]> Limits, SourceStatus? Status = null);
}
