using System.Globalization;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Grades;

namespace Meltwise.Web.Steel;

/// <summary>A standard designation to try in the calculator: the middle of its ranges and a usual hardening.</summary>
/// <param name="Designation">Designation in the catalogue.</param>
/// <param name="HardenedAtC">A hardening temperature inside the usual range of the grade, °C (common practice, no source).</param>
/// <param name="Tempers">Tempers as typed, °C/h (common practice, no source).</param>
internal sealed record StandardSteel(string Designation, int HardenedAtC, string Tempers)
{
    /// <summary>Those on offer.</summary>
    public static IReadOnlyList<StandardSteel> All { get; } =
    [
        new("D2", 1020, "200/2"), new("A2", 970, "200/2"), new("W1", 790, "180/2"), new("H13", 1020, ""), new("M2 (regular C)", 1200, ""),
    ];

    /// <summary>The specification of all of them.</summary>
    public static string Specification { get; } = string.Join(", ", All.Select(s => GradeCatalogue.Find(s.Designation).Specification).Distinct(StringComparer.Ordinal));

    /// <summary>Address of two of them side by side.</summary>
    public static string Pair { get; } = $"{All[0].Address}&b={Uri.EscapeDataString(All[1].Composition)}";

    /// <summary>As it is called.</summary>
    public string Name => $"AISI {Designation.Split(' ')[0]}";

    /// <summary>Middle of every range as it would be typed, mass percent.</summary>
    public string Composition => string.Join(", ", GradeCatalogue.Find(Designation).Limits.Select(l => Typed(l.Element, (l.Lowest + l.Highest) / 2)));

    /// <summary>Address of its result.</summary>
    public string Address => string.Create(CultureInfo.InvariantCulture, $"steel?a={Uri.EscapeDataString(Composition)}&at={HardenedAtC}{(Tempers.Length > 0 ? $"&temper={Uri.EscapeDataString(Tempers)}" : "")}");

    private static string Typed(AlloyElement element, double massPercent) => string.Create(CultureInfo.InvariantCulture, $"{element} {massPercent:0.###}");
}
