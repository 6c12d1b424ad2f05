namespace Meltwise.Domain;

/// <summary>The shipped table of properties: units, scale, good direction and limits of belief of each.</summary>
/// <remarks>1 ft·lbf = 1.3558179483314004 J exactly (0.3048 m × 0.45359237 kg × 9.80665 m/s²; international yard and pound agreement of 1959, CGPM 1901).
/// Limits of belief are common practice, no source: they catch slips of unit and of the decimal point, they judge no steel.</remarks>
public static class PropertyTable
{
    /// <summary>Joules in one foot-pound force.</summary>
    public const double JoulesPerFootPound = 1.3558179483314004;

    /// <summary>Hardness on the Rockwell C scale; the covariate of the equal-hardness comparison.</summary>
    public static Property Hardness { get; } = new("hardness", PropertyScale.Linear, GoodDirection.None,
        [new("HRC", 1, "Rockwell C")], 15, 72, "hrc", "hardness hrc");

    /// <summary>Energy absorbed in an impact test.</summary>
    public static Property ImpactEnergy { get; } = new("impact energy", PropertyScale.Logarithmic, GoodDirection.Higher,
        [new("J", 1, "joule", "joules", "Nm", "N·m"), new("ft·lbf", JoulesPerFootPound, "ft-lbf", "ft.lbf", "ft lb", "ft-lb", "ftlbf", "ft·lb", "ft lbf", "ft.lb")],
        0, 600, "energy", "absorbed energy", "impact", "toughness", "impact toughness", "charpy", "charpy energy", "impact strength", "cvn", "kv", "kv2", "ku", "ku2");

    /// <summary>All properties, hardness first.</summary>
    public static IReadOnlyList<Property> All { get; } =
    [
        Hardness,
        ImpactEnergy,
        new("wear loss", PropertyScale.Logarithmic, GoodDirection.Lower, [new("mm³", 1, "mm3", "mm^3")], 0, 5000, "volume loss", "wear"),
        new("retained austenite", PropertyScale.Linear, GoodDirection.None, [new("vol%", 1, "%", "vol %", "vol.%", "vol-%")], -1e-9, 100, "austenite"),
        new("carbide area fraction", PropertyScale.Linear, GoodDirection.None, [new("%", 1, "area%", "area %", "vol%")], -1e-9, 100, "area fraction", "carbide fraction"),
        new("carbide size", PropertyScale.Logarithmic, GoodDirection.None, [new("µm", 1, "um", "μm", "micron", "microns")], 0, 500, "mean carbide size", "carbide diameter"),
        new("largest particle", PropertyScale.Logarithmic, GoodDirection.Lower, [new("µm", 1, "um", "μm", "micron", "microns")], 0, 5000, "largest inclusion", "largest carbide"),
        new("oxygen", PropertyScale.Logarithmic, GoodDirection.None, [new("ppm", 1), new("wt%", 1e4, "%", "mass%")], 0, 5000, "oxygen content"),
        new("bend strength", PropertyScale.Logarithmic, GoodDirection.Higher, [new("MPa", 1, "N/mm²", "N/mm2")], 0, 8000, "bending strength"),
        new("pitting potential", PropertyScale.Linear, GoodDirection.Higher, [new("mV", 1), new("V", 1000)], -3000, 3000),
    ];

    /// <summary>The property of that name or other name, without case, or null.</summary>
    public static Property? Find(string name)
    {
        string wanted = name.Trim();
        return All.FirstOrDefault(p => Same(p.Name, wanted) || p.OtherNames.Any(o => Same(o, wanted)));

        static bool Same(string a, string b) => string.Equals(a, b, StringComparison.OrdinalIgnoreCase);
    }
}
