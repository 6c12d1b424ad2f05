using System.Globalization;

namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>A known weakness that touches a result.</summary>
/// <param name="Code">Short fixed name, for programs.</param>
/// <param name="Text">What it means for the reader.</param>
public sealed record EquilibriumWarning(string Code, string Text);

/// <summary>How far absolute values of the shipped set may be from a measured steel; differences between two heats of one grade are firmer.</summary>
/// <param name="CarbonMassPercent">Dissolved carbon, mass percent, plus or minus.</param>
/// <param name="ChromiumMassPercent">Dissolved chromium, mass percent, plus or minus.</param>
/// <param name="CarbideVolumePercent">Carbide, volume percent, plus or minus.</param>
/// <param name="Basis">What the figures rest on.</param>
public sealed record ModelErrorBars(double CarbonMassPercent, double ChromiumMassPercent, double CarbideVolumePercent, string Basis)
{
    /// <summary>For austenite at the hardening temperature.</summary>
    public static ModelErrorBars ToolSteelAustenite { get; } = new(0.05, 0.4, 1.0,
        "Judged from the published facts the set was compared with and from switching doubtful parameters. An error of the set is nearly the same for two heats of one grade at "
        + "one temperature and cancels in their difference, so a difference is firmer than either value.");
}

/// <summary>The known failures of the shipped parameter set, and its range: what is warned of, and what is refused.</summary>
/// <remarks>The limits of content are ours, from the compositions of the published facts the set was compared with.</remarks>
internal static class EquilibriumRange
{
    private const double RefuseBelowC = 600, RefuseAboveC = 1400, RefuseBelowIron = 50;

    // Mass percent: above the first the set was not compared with anything, above the second it is refused.
    private static readonly Dictionary<string, (double Compared, double Refused)> s_contents = new(StringComparer.Ordinal)
    {
        ["C"] = (3.3, 5),
        ["Cr"] = (18, 30),
        ["Mo"] = (10, 15),
        ["V"] = (14.5, 20),
        ["W"] = (19, 25),
        ["Mn"] = (3, 15),
        ["Si"] = (2, 5),
        ["Ni"] = (5, 15),
        ["Co"] = (12, 20),
        ["Nb"] = (3, 6),
        ["N"] = (0.5, 1.5),
    };

    private static readonly string[] s_extended = ["Ni", "Co", "Nb", "N"];

    /// <summary>Refuses what lies outside the range.</summary>
    /// <exception cref="EquilibriumRefusedException">Temperature or a content outside the range.</exception>
    internal static void Require(SteelComposition steel, double temperatureK)
    {
        double celsius = temperatureK - 273.15;
        const double rounding = 1e-6;
        if (!(celsius >= RefuseBelowC - rounding && celsius <= RefuseAboveC + rounding))
            throw new EquilibriumRefusedException(string.Create(CultureInfo.InvariantCulture, $"Temperature: found {celsius:0.##} °C; the set can be used from {RefuseBelowC} to {RefuseAboveC} °C."),
                "It holds no liquid phase, so nothing is said near or above melting, and was not compared with measurements below 700 °C.");
        if (steel["Fe"] < RefuseBelowIron)
            throw new EquilibriumRefusedException(string.Create(CultureInfo.InvariantCulture, $"Fe: found {steel["Fe"]:0.###} mass percent; the set is for steels of at least {RefuseBelowIron}."),
                "A parameter set for this alloy system would be needed.");
        foreach (string element in steel.Modelled)
            if (s_contents.TryGetValue(element, out (double Compared, double Refused) limit) && steel[element] > limit.Refused)
                throw new EquilibriumRefusedException(string.Create(CultureInfo.InvariantCulture, $"{element}: found {steel[element]:0.###} mass percent; the set can be used to {limit.Refused}."),
                    "A parameter set for this alloy system would be needed.");
    }

    /// <summary>Warnings that depend on the question.</summary>
    internal static void AddWarnings(SteelComposition steel, double temperatureK, List<EquilibriumWarning> warnings)
    {
        double celsius = temperatureK - 273.15;
        ParameterSet set = ParameterSet.ToolSteel;
        if (celsius < set.ValidFromC || celsius > set.ValidToC)
            warnings.Add(new("temperature-outside", string.Create(CultureInfo.InvariantCulture, $"{celsius:0.#} °C is outside {set.ValidFromC:0} to {set.ValidToC:0} °C, for which the set was checked. There is no liquid in the set: melting is not predicted.")));
        if (steel.LeftOut.Count > 0)
            warnings.Add(new("elements-left-out", $"Measured but not modelled, and left out: {string.Join(", ", steel.LeftOut)}."));
        string[] extended = [.. steel.Modelled.Where(s_extended.Contains)];
        if (extended.Length > 0)
            warnings.Add(new("extended-elements", $"{string.Join(", ", extended)}: outside the core set Fe C Cr Mo V W Mn Si, less verified."
                + (extended.Contains("Nb") ? " NbC dissolves too little below 1100 °C, by up to 0.5 in log10 of the product." : "")
                + (extended.Contains("N") ? " Nitrogen was not verified at all." : "")));
        foreach (string element in steel.Modelled)
            if (s_contents.TryGetValue(element, out (double Compared, double Refused) limit) && steel[element] > limit.Compared)
                warnings.Add(new("content-outside", string.Create(CultureInfo.InvariantCulture, $"{element} {steel[element]:0.##} mass percent is above {limit.Compared}, the most the set was compared with.")));
    }

    /// <summary>Warnings that depend on the phases found.</summary>
    internal static void AddPhaseWarnings(SteelComposition steel, IReadOnlyList<EquilibriumPhase> phases, List<EquilibriumWarning> warnings)
    {
        bool Has(string name) => phases.Any(p => p.Name == name);
        if (phases.Any(p => p.Name == PhaseNames.Ferrite && p.Composition["Fe"] >= 50) && Has(PhaseNames.Austenite))
            warnings.Add(new("ferrite", "Ferrite beside austenite. Between A1 and A3 that is as it should be; at a hardening temperature it is a known failure of the set, which over-stabilises ferrite when the matrix holds about 12 Cr and more than 1.5 V."));
        if (phases.Any(p => p.Name is PhaseNames.Ferrite or PhaseNames.Hexagonal && p.Composition["Fe"] < 50))
            warnings.Add(new("intermetallics", "A metallic phase rich in Mo, W or Cr stands for the intermetallic phases (Laves, mu, sigma), which are not in the set: their amounts are not predicted."));
        if (Has(PhaseNames.M23C6) && steel["Cr"] < 12)
            warnings.Add(new("M23C6-low-chromium", "M23C6 in a steel below 12 Cr: the set's balance of M23C6 against M7C3 is delicate, check before use."));
        if (steel["Cr"] >= 16 && Has(PhaseNames.M23C6))
            warnings.Add(new("M23C6-high-chromium", "M23C6 is slightly too stable in steels of about 17 Cr: dissolved carbon is probably 0.05 to 0.1 low."));
        if (phases.Any(p => p.Name == PhaseNames.M7C3 && p.Composition["Mo"] > 5))
            warnings.Add(new("M7C3-molybdenum", "The molybdenum content of M7C3 is probably too high."));
    }
}

/// <summary>The question cannot be answered on scientific grounds: says why, and what would be needed.</summary>
public sealed class EquilibriumRefusedException(string reason, string needed) : InvalidOperationException($"{reason} {needed}")
{
    /// <summary>Why the answer is refused.</summary>
    public string Reason { get; } = reason;

    /// <summary>What would be needed.</summary>
    public string Needed { get; } = needed;
}
