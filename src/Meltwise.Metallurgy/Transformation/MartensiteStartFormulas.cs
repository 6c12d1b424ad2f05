using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Transformation;

/// <summary>The published martensite-start formulas, each as printed: mass percent in the austenite, not in the steel; result in °C.</summary>
public static class MartensiteStartFormulas
{
    /// <summary>Andrews 1965, the linear form.</summary>
    public static MartensiteStartFormula Andrews { get; } = new("Andrews 1965, linear",
        "539 - 423 C - 30.4 Mn - 17.7 Ni - 12.1 Cr - 7.5 Mo",
        new("Andrews, J. Iron Steel Inst. 203 (1965) 721", SourceStatus.FromMemory), "C below 0.6, Cr below 5",
        [new(AlloyElement.C, 0, 0.6), new(AlloyElement.Cr, 0, 5)],
        a => 539 - 423 * a.C - 30.4 * a.Mn - 17.7 * a.Ni - 12.1 * a.Cr - 7.5 * a.Mo);

    /// <summary>Andrews 1965, the form with products.</summary>
    public static MartensiteStartFormula AndrewsProduct { get; } = new("Andrews 1965, with products",
        "512 - 453 C - 16.9 Ni + 15 Cr - 9.5 Mo + 217 C^2 - 71.5 C Mn - 67.6 C Cr",
        new("Andrews, J. Iron Steel Inst. 203 (1965) 721", SourceStatus.FromMemory), "C below 0.6, Cr below 5",
        [new(AlloyElement.C, 0, 0.6), new(AlloyElement.Cr, 0, 5)],
        a => 512 - 453 * a.C - 16.9 * a.Ni + 15 * a.Cr - 9.5 * a.Mo + 217 * a.C * a.C - 71.5 * a.C * a.Mn - 67.6 * a.C * a.Cr);

    /// <summary>Steven and Haynes 1956.</summary>
    public static MartensiteStartFormula StevenHaynes { get; } = new("Steven and Haynes 1956",
        "561 - 474 C - 33 Mn - 17 Cr - 17 Ni - 21 Mo",
        new("Steven and Haynes, J. Iron Steel Inst. 183 (1956) 349", SourceStatus.FromMemory), "C below 0.5, Cr below 3.5",
        [new(AlloyElement.C, 0, 0.5), new(AlloyElement.Cr, 0, 3.5)],
        a => 561 - 474 * a.C - 33 * a.Mn - 17 * a.Cr - 17 * a.Ni - 21 * a.Mo);

    /// <summary>Kung and Rayment 1982: Andrews with cobalt and silicon.</summary>
    public static MartensiteStartFormula KungRayment { get; } = new("Kung and Rayment 1982",
        "539 - 423 C - 30.4 Mn - 17.7 Ni - 12.1 Cr - 7.5 Mo + 10 Co - 7.5 Si",
        new("Kung and Rayment, Metall. Trans. A 13 (1982) 328", SourceStatus.FromMemory), "Andrews extended to Co and Si: C below 0.6, Cr below 5",
        [new(AlloyElement.C, 0, 0.6), new(AlloyElement.Cr, 0, 5)],
        a => Andrews.Celsius(a) + 10 * a.Co - 7.5 * a.Si);

    /// <summary>The handbook formula with vanadium and tungsten terms.</summary>
    public static MartensiteStartFormula WithVanadiumAndTungsten { get; } = new("Handbook formula with V and W",
        "550 - 350 C - 40 Mn - 35 V - 20 Cr - 17 Ni - 10 Mo - 8 W + 15 Co",
        new("General formula quoted in handbooks, attributed to Tamura", SourceStatus.FromMemory), "no range published; the only one here with V and W made for tool steels",
        [],
        a => 550 - 350 * a.C - 40 * a.Mn - 35 * a.V - 20 * a.Cr - 17 * a.Ni - 10 * a.Mo - 8 * a.W + 15 * a.Co);

    /// <summary>Finkler and Schirra 1996, for 8 to 14 % chromium.</summary>
    public static MartensiteStartFormula FinklerSchirra { get; } = new("Finkler and Schirra 1996",
        "635 - 474 C - 17 Cr - 33 Mn - 21 Mo - 17 Ni - 39 V - 11 W",
        new("Finkler and Schirra, Steel Res. 67 (1996) 328", SourceStatus.FromMemory), "8 to 14 Cr, low carbon (taken as below 0.3)",
        [new(AlloyElement.C, 0, 0.3), new(AlloyElement.Cr, 8, 14)],
        a => 635 - 474 * a.C - 17 * a.Cr - 33 * a.Mn - 21 * a.Mo - 17 * a.Ni - 39 * a.V - 11 * a.W);

    /// <summary>Capdevila, Caballero and García de Andrés 2002.</summary>
    public static MartensiteStartFormula Capdevila { get; } = new("Capdevila, Caballero and García de Andrés 2002",
        "764.2 - 302.6 C - 30.6 Mn - 16.6 Ni - 8.9 Cr + 2.4 Mo + 8.58 Co + 7.4 W - 14.5 Si (K)",
        new("Capdevila, Caballero, García de Andrés, ISIJ Int. 42 (2002) 894", SourceStatus.FromMemory), "wide, C below 0.8",
        [new(AlloyElement.C, 0, 0.8)],
        a => 764.2 - 273.15 - 302.6 * a.C - 30.6 * a.Mn - 16.6 * a.Ni - 8.9 * a.Cr + 2.4 * a.Mo + 8.58 * a.Co + 7.4 * a.W - 14.5 * a.Si);

    /// <summary>Van Bohemen 2012.</summary>
    public static MartensiteStartFormula VanBohemen { get; } = new("van Bohemen 2012",
        "565 - 600 (1 - exp(-0.96 C)) - 31 Mn - 13 Si - 10 Cr - 18 Ni - 12 Mo",
        new("van Bohemen, Mater. Sci. Technol. 28 (2012) 487", SourceStatus.FromMemory), "C to 1.9, low alloy (taken as Cr below 5)",
        [new(AlloyElement.C, 0, 1.9), new(AlloyElement.Cr, 0, 5)],
        a => 565 - 600 * (1 - Math.Exp(-0.96 * a.C)) - 31 * a.Mn - 13 * a.Si - 10 * a.Cr - 18 * a.Ni - 12 * a.Mo);

    /// <summary>Barbier 2014.</summary>
    public static MartensiteStartFormula Barbier { get; } = new("Barbier 2014",
        "545 - 601.2 (1 - exp(-0.868 C)) - 34.4 Mn - 13.7 Si - 9.2 Cr - 17.3 Ni - 15.4 Mo + 10.8 V + 4.7 Co",
        new("Barbier, Adv. Eng. Mater. 16 (2014) 122", SourceStatus.FromMemory), "C to 1.9, low alloy (taken as Cr below 5)",
        [new(AlloyElement.C, 0, 1.9), new(AlloyElement.Cr, 0, 5)],
        a => 545 - 601.2 * (1 - Math.Exp(-0.868 * a.C)) - 34.4 * a.Mn - 13.7 * a.Si - 9.2 * a.Cr - 17.3 * a.Ni - 15.4 * a.Mo + 10.8 * a.V + 4.7 * a.Co);

    /// <summary>All of them, side by side.</summary>
    public static IReadOnlyList<MartensiteStartFormula> All { get; } =
        [Andrews, AndrewsProduct, StevenHaynes, KungRayment, WithVanadiumAndTungsten, FinklerSchirra, Capdevila, VanBohemen, Barbier];

    /// <summary>The four whose spread serves as the error bar of a tool-steel austenite.</summary>
    public static IReadOnlyList<MartensiteStartFormula> ForToolSteel { get; } = [Andrews, KungRayment, WithVanadiumAndTungsten, Barbier];
}
