using Meltwise.Metallurgy.Composition;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>A computed quantity with its interval.</summary>
/// <param name="Estimate">Median of the draws.</param>
/// <param name="Lower">Lower end.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="Level">Probability of the interval.</param>
public readonly record struct Interval(double Estimate, double Lower, double Upper, double Level)
{
    /// <summary>Whether the interval holds a value.</summary>
    public bool Holds(double value) => value >= Lower && value <= Upper;

    /// <summary>Half the width.</summary>
    public double HalfWidth => (Upper - Lower) / 2;
}

/// <summary>Every quantity of the chain, of one heat or as candidate less reference.</summary>
/// <param name="CarbonInAustenite">Mass percent.</param>
/// <param name="ChromiumInAustenite">Mass percent.</param>
/// <param name="MolybdenumInAustenite">Mass percent.</param>
/// <param name="VanadiumInAustenite">Mass percent.</param>
/// <param name="TungstenInAustenite">Mass percent.</param>
/// <param name="CarbideVolumeFraction">All undissolved carbide, 0 to 1.</param>
/// <param name="CarbidesByKind">By kind, 0 to 1; kinds that are there in at least one draw.</param>
/// <param name="MartensiteStartC">°C.</param>
/// <param name="RetainedAustenite">Volume fraction of the whole.</param>
/// <param name="HardnessHrc">Rockwell C.</param>
public sealed record ChainIntervals(
    Interval CarbonInAustenite, Interval ChromiumInAustenite, Interval MolybdenumInAustenite, Interval VanadiumInAustenite, Interval TungstenInAustenite,
    Interval CarbideVolumeFraction, IReadOnlyDictionary<CarbideKind, Interval> CarbidesByKind,
    Interval MartensiteStartC, Interval RetainedAustenite, Interval HardnessHrc);
