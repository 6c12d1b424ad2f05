using Meltwise.Domain;

namespace Meltwise.Casework.Cautions;

/// <summary>A caution: the step, what can hurt and what to do in a few words, and where it is written in full.</summary>
public sealed record Caution(string Step, string Text, string WrittenIn);

/// <summary>The usual cautions of the trade, shown where the step is planned or recorded. They defer to local codes and trained practice.</summary>
/// <remarks>Texts after ASTM E23, E18, E407, E2014, NFPA 86 and the OSHA rules named with each (from memory); common practice where none is named.</remarks>
public static class CautionTable
{
    /// <summary>Stands under every caution.</summary>
    public const string Footer =
        "Reminder only. Follow your local codes, the maker’s manual, the safety data sheet of each substance, and licensed or trained practice. If they disagree with this text, they win.";

    private static readonly Caution s_pendulum = new("Pendulum",
        "Stay out of the plane of swing; guard and interlock in place; never reach in while it is cocked. Hard halves fly at tens of metres a second: full enclosure, eye and face protection, nobody in line. Count both halves before the next blow. A coupon that jams the pendulum is not freed by hand until brake and latch hold.",
        "ASTM E23, ISO 148-2");

    private static readonly Caution s_hardness = new("Hardness tester", "Small hard coupons can shatter or jump out: support them flat, eye protection, fingers away.", "ASTM E18");

    private static readonly Caution s_furnace = new("Furnace and hot load",
        "Burns, fire, radiation to the eyes: face shield, dry gloves, a clear path, a second person for heavy loads; no solvent and no foil with trapped oil.", "NFPA 86; OSHA 1910.132, .133, .138");

    private static readonly Caution s_untempered = new("Quenched and not yet tempered", "Delayed cracks throw fragments: temper soon, store covered, eye protection when straightening.", "common practice");

    private static readonly Caution s_cold = new("Sub-zero step",
        "One volume of liquid nitrogen gives about 700 of gas and takes the oxygen unnoticed: ventilate, a fixed oxygen alarm, never alone, never in a lift or car with you. Cold burns: goggles and face shield, loose insulated gloves. Only vented dewars. A cold part carries frost, which is water: dry and warm it before hot oil, salt or the temper furnace.",
        "OSHA 1910.146, .134; CGA P-12; NFPA 86");

    private static readonly Caution s_grinding = new("Grinding and polishing of tool steel", "Dust with cobalt, chromium, nickel, vanadium harms lung and skin: grind wet or with local exhaust.", "OSHA 1910.1000; NIOSH guide");

    private static readonly Caution s_etching = new("Etchants",
        "Nital is kept fresh and weak and never stoppered; picric acid explodes when dry or as a metal salt; ferricyanide never meets acid; etchants with hydrofluoric acid only by trained persons with calcium gluconate at hand. Fume hood, eyewash, safety data sheets.",
        "ASTM E407, E2014; OSHA 1910.1200");

    /// <summary>Cautions of sawing and grinding coupons.</summary>
    public static IReadOnlyList<Caution> Cutting { get; } = [s_grinding];

    /// <summary>Cautions of a treatment's steps.</summary>
    public static IReadOnlyList<Caution> Of(Treatment treatment)
    {
        var cautions = new List<Caution> { s_furnace };
        cautions.AddRange(treatment.Steps.OfType<TreatmentStep.Quench>().Select(q => OfQuench(q.Medium)).OfType<Caution>().Distinct());
        if (treatment.Steps.OfType<TreatmentStep.SubZero>().Any())
        {
            cautions.Add(s_cold);
        }

        cautions.Add(s_untempered);
        return cautions;
    }

    /// <summary>Cautions of reading a property.</summary>
    public static IReadOnlyList<Caution> OfProperty(string property) => property switch
    {
        "impact energy" => [s_pendulum],
        "hardness" => [s_hardness],
        "carbide area fraction" or "carbide size" or "largest particle" => [s_grinding, s_etching],
        _ => [],
    };

    private static Caution? OfQuench(string medium) => medium.ToLowerInvariant() switch
    {
        var m when m.Contains("oil", StringComparison.Ordinal) => new("Oil quench",
            "Flash fire, boil-over, smoke: know the flash point and keep the oil well below it, no water in the oil, lid and extinguisher at hand, full immersion.", "NFPA 86; OSHA 1910.123 to .126"),
        var m when m.Contains("salt", StringComparison.Ordinal) => new("Molten salt",
            "A wet, frosted or cold part makes a steam explosion; nitrate with cyanide, carbon, oil or light metal explodes: preheat and dry everything, never mix baths.", "NFPA 86; OSHA 1910.126"),
        var m when m.Contains("plate", StringComparison.Ordinal) => new("Plate quench", "Pinch points, hot plates, a cracking part can be thrown out: guard it.", "OSHA 1910.212"),
        var m when m.Contains("gas", StringComparison.Ordinal) || m.Contains("nitrogen", StringComparison.Ordinal) || m.Contains("argon", StringComparison.Ordinal) => new("Inert gas",
            "Suffocates in pits and small rooms without warning: oxygen monitor, purge procedure.", "NFPA 86; OSHA 1910.146"),
        _ => null,
    };
}
