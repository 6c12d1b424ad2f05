using System.Globalization;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Carbides;

/// <summary>A carbide formula and the carbon that one mass percent of its metal can tie.</summary>
/// <param name="Formula">Carbide, such as V8C7.</param>
/// <param name="Metal">The metal counted.</param>
/// <param name="CarbonPerMetal">Mass percent carbon for one mass percent of the metal.</param>
public readonly record struct CarbonTie(string Formula, AlloyElement Metal, double CarbonPerMetal);

/// <summary>Carbon balance of a steel on paper: what its carbide formers could tie, and what is left.</summary>
/// <remarks>
/// <para><b>Formula.</b> For a carbide with m metal and n carbon atoms: n M(C) / (m M(metal)) mass percent carbon for one of metal. Nitrogen counts as
/// carbon by the ratio of the atomic masses. High-speed steels: C_s = 0.060 Cr + 0.063 Mo + 0.033 W + 0.200 V.</para>
/// <para><b>Assumptions.</b> All of a metal in one carbide: an upper bound, not the state at a hardening temperature. That is the equilibrium's job.</para>
/// <para><b>Range.</b> Arithmetic, any steel; the high-speed balance for high-speed steels.</para>
/// <para><b>Source.</b> Atomic masses; Steven, Nehrenberg and Philip, Trans. ASM 57 (1964) 925, from memory.</para>
/// </remarks>
public static class CarbonBalance
{
    /// <summary>The high-speed-steel balance.</summary>
    public static Source HighSpeedSource { get; } = new("Steven, Nehrenberg and Philip, Trans. ASM 57 (1964) 925", SourceStatus.FromMemory);

    /// <summary>Carbon that one mass percent of nitrogen stands for.</summary>
    public static double CarbonPerNitrogen { get; } = AtomicMass.Of(AlloyElement.C) / AtomicMass.Of(AlloyElement.N);

    /// <summary>The carbides of the table.</summary>
    public static IReadOnlyList<CarbonTie> Ties { get; } =
    [
        Tie("VC", AlloyElement.V, 1, 1), Tie("V8C7", AlloyElement.V, 8, 7), Tie("V4C3", AlloyElement.V, 4, 3), Tie("NbC", AlloyElement.Nb, 1, 1),
        Tie("Cr7C3", AlloyElement.Cr, 7, 3), Tie("Cr23C6", AlloyElement.Cr, 23, 6), Tie("Fe3W3C", AlloyElement.W, 3, 1), Tie("Fe3Mo3C", AlloyElement.Mo, 3, 1),
    ];

    /// <summary>Carbon plus nitrogen as carbon, mass percent.</summary>
    public static double CarbonEquivalent(AlloyContent steel) => steel.C + CarbonPerNitrogen * steel.N;

    /// <summary>Carbon that the high-speed balance asks for, mass percent.</summary>
    public static double HighSpeedCarbon(AlloyContent steel) => 0.060 * steel.Cr + 0.063 * steel.Mo + 0.033 * steel.W + 0.200 * steel.V;

    /// <summary>The balance of a steel.</summary>
    /// <param name="steel">Composition of the steel, mass percent.</param>
    public static CarbonBalanceResult Of(AlloyContent steel)
    {
        double vanadium = steel.V * Ties.Single(t => t.Formula == "V8C7").CarbonPerMetal;
        double niobium = steel.Nb * Ties.Single(t => t.Formula == "NbC").CarbonPerMetal;
        double equivalent = CarbonEquivalent(steel);
        List<string> notes =
        [
            "Upper bounds on paper: at a hardening temperature part of every metal stays in solution. Use the equilibrium for that.",
        ];
        if (vanadium + niobium > equivalent)
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"Vanadium and niobium could tie {vanadium + niobium:0.00} wt% carbon, more than the {equivalent:0.00} there is: part of them must stay in solution."));
        return new(equivalent, vanadium, niobium, equivalent - vanadium - niobium, HighSpeedCarbon(steel), equivalent - HighSpeedCarbon(steel), notes);
    }

    private static CarbonTie Tie(string formula, AlloyElement metal, int metals, int carbons) =>
        new(formula, metal, carbons * AtomicMass.Of(AlloyElement.C) / (metals * AtomicMass.Of(metal)));
}

/// <summary>A carbon balance, mass percent throughout.</summary>
/// <param name="CarbonEquivalent">Carbon with nitrogen counted as carbon.</param>
/// <param name="TiedByVanadium">If all vanadium were V8C7.</param>
/// <param name="TiedByNiobium">If all niobium were NbC.</param>
/// <param name="LeftForTheRest">Equivalent carbon less both.</param>
/// <param name="HighSpeedCarbon">What the high-speed balance asks for.</param>
/// <param name="AboveHighSpeedBalance">Equivalent carbon less that; -0.1 to -0.4 in tough grades (from memory).</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record CarbonBalanceResult(
    double CarbonEquivalent, double TiedByVanadium, double TiedByNiobium, double LeftForTheRest, double HighSpeedCarbon, double AboveHighSpeedBalance, IReadOnlyList<string> Notes);
