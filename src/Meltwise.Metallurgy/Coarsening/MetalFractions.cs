using Meltwise.Metallurgy.Composition;

namespace Meltwise.Metallurgy.Coarsening;

/// <summary>Share of each metal among the metal atoms of a phase (u-fractions): carbon and nitrogen, which sit between the metal atoms, are left out.</summary>
public sealed class MetalFractions
{
    private MetalFractions(IReadOnlyDictionary<string, double> bySymbol) => BySymbol = bySymbol;

    /// <summary>Fraction by element symbol, iron included; they add to 1.</summary>
    public IReadOnlyDictionary<string, double> BySymbol { get; }

    /// <summary>Fraction of one element, 0 when absent.</summary>
    public double this[string symbol] => BySymbol.GetValueOrDefault(symbol, 0);

    /// <summary>From mass percent, iron by difference.</summary>
    /// <exception cref="ArgumentException">The contents add up to more than 100 %.</exception>
    public static MetalFractions Of(AlloyContent phase)
    {
        double iron = phase.Iron;
        if (iron < -1e-3)
            throw new ArgumentException($"The contents of the phase add up to more than 100 mass percent: {phase}.", nameof(phase));
        Dictionary<string, double> moles = new(StringComparer.Ordinal) { ["Fe"] = Math.Max(0, iron) / AtomicMass.Iron };
        foreach (AlloyElement e in AlloyContent.Elements)
            if (e is not (AlloyElement.C or AlloyElement.N) && phase[e] > 0)
                moles[e.ToString()] = phase[e] / AtomicMass.Of(e);
        double sum = moles.Values.Sum();
        return new(moles.ToDictionary(m => m.Key, m => m.Value / sum, StringComparer.Ordinal));
    }
}
