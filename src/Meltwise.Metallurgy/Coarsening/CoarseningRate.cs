using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Coarsening;

/// <summary>Rate at which a multicomponent carbide coarsens in austenite (Lifshitz, Slyozov, Wagner), and which element holds it back.</summary>
/// <remarks>
/// <para><b>Formula.</b> r³ - r0³ = K t, K = 8 σ Vm / (9 R T Σ_i (u_i(carbide) - u_i(austenite))² / (u_i(austenite) D_i)) over the substitutional
/// elements i; u_i metal fraction, Vm carbide volume per mole of metal atoms, D_i diffusivity in austenite.</para>
/// <para><b>Assumptions.</b> Carbon everywhere in equilibrium; spheres; volume diffusion; a small volume fraction, corrected by a published factor.</para>
/// <para><b>Range.</b> σ and D are each known to a factor of about two, so K to a factor of three; measured rates lie about three times above
/// (a creep steel), hence the empirical multiplier, 3 with a range of 1 to 10. The ratio of two heats of one grade is far firmer than either
/// rate.</para>
/// <para><b>Source.</b> Björklund, Donaghey and Hillert, Acta Metall. 20 (1972) 867; Ågren and others, Calphad 24 (2000) 41; Lifshitz and Slyozov (1961); Wagner (1961);
/// from memory.</para>
/// </remarks>
public static class CoarseningRate
{
    /// <summary>Default empirical multiplier: measured over calculated.</summary>
    public const double EmpiricalMultiplier = 3;

    /// <summary>Sources of the law and of the multiplier.</summary>
    public static IReadOnlyList<Source> Sources { get; } =
    [
        new("Björklund, Donaghey and Hillert, Acta Metall. 20 (1972) 867; generalised by Ågren and others, Calphad 24 (2000) 41", SourceStatus.FromMemory),
        new("Measured rate of M23C6 in a high-chromium creep steel at 800 °C about three times the calculated, Steel Res. Int. (2012), doi 10.1002/srin.201200150", SourceStatus.Retrieved),
        new("Factor for the volume fraction: order of Brailsford and Wynblatt (1979), Voorhees and Glicksman (1984), ±20 %", SourceStatus.FromMemory),
    ];

    private static readonly double[] s_fraction = [0, 0.05, 0.1, 0.2, 0.3];
    private static readonly double[] s_factor = [1.0, 1.5, 1.7, 2.1, 2.6];

    /// <summary>The rate constant by the law as printed, without volume-fraction factor and multiplier.</summary>
    /// <param name="carbide">Kind of carbide.</param>
    /// <param name="carbideContent">Mass percent in the carbide.</param>
    /// <param name="austenite">Mass percent in the austenite around it.</param>
    /// <param name="temperatureK">Temperature, K.</param>
    /// <param name="interfacialEnergyJM2">σ, J/m²; null takes the tabulated value of the carbide.</param>
    /// <exception cref="ArgumentException">An element of the carbide is missing from the austenite: the law needs it to move.</exception>
    /// <exception cref="OutsideModelRangeException">Temperature outside that of the diffusivities.</exception>
    public static CoarseningRateResult Of(CarbideKind carbide, AlloyContent carbideContent, AlloyContent austenite, double temperatureK, double? interfacialEnergyJM2 = null)
    {
        MetalFractions inCarbide = MetalFractions.Of(carbideContent), inAustenite = MetalFractions.Of(austenite);
        Dictionary<string, double> resistance = new(StringComparer.Ordinal);
        foreach (string symbol in inCarbide.BySymbol.Keys.Union(inAustenite.BySymbol.Keys))
        {
            double step = inCarbide[symbol] - inAustenite[symbol];
            if (inAustenite[symbol] <= 0 && inCarbide[symbol] > 0)
                throw new ArgumentException($"{symbol} is in the {carbide} but not in the austenite. Give the austenite that is in equilibrium with it.", nameof(austenite));
            if (inAustenite[symbol] > 0)
                resistance[symbol] = step * step / (inAustenite[symbol] * Diffusivity.Of(symbol, temperatureK));
        }
        double total = resistance.Values.Sum();
        double sigma = interfacialEnergyJM2 ?? CarbideProperties.Interface(carbide).JoulePerM2;
        double rate = 8 * sigma * CarbideProperties.MolarVolumeM3(carbide, inCarbide) / (9 * Diffusivity.GasConstant * temperatureK * total);
        return new(carbide, rate, temperatureK, resistance.ToDictionary(r => r.Key, r => r.Value / total, StringComparer.Ordinal), Sources,
        [
            "Rate of the law as printed; interfacial energy and diffusivities make it uncertain by a factor of about 3.",
            "Compare two heats of one grade by the ratio of their rates: most of the uncertainty cancels.",
        ]);
    }

    /// <summary>Factor by which a finite volume fraction speeds coarsening; the tabulated range is 0 to 0.3.</summary>
    /// <exception cref="OutsideModelRangeException">Volume fraction outside 0 to 0.3.</exception>
    public static double VolumeFractionFactor(double volumeFraction)
    {
        double factor = Hardness.HardnessConversion.Interpolate(s_fraction, s_factor, volumeFraction);
        return double.IsNaN(factor) ? throw new OutsideModelRangeException("Coarsening", "carbide volume fraction", volumeFraction, 0, 0.3, "") : factor;
    }
}

/// <summary>A coarsening rate and what holds it back.</summary>
/// <param name="Carbide">Kind of carbide.</param>
/// <param name="RateM3S">K, m³/s, as printed.</param>
/// <param name="TemperatureK">Temperature, K.</param>
/// <param name="ResistanceShare">Share of each element in holding the carbide back; they add to 1.</param>
/// <param name="Sources">The law's sources.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record CoarseningRateResult(
    CarbideKind Carbide, double RateM3S, double TemperatureK, IReadOnlyDictionary<string, double> ResistanceShare, IReadOnlyList<Source> Sources, IReadOnlyList<string> Notes)
{
    /// <summary>The element that holds the carbide back most.</summary>
    public string SlowestElement => ResistanceShare.MaxBy(r => r.Value).Key;
}
