using System.Globalization;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>A soak too short for equilibrium: a stated share of what should dissolve stays undissolved.</summary>
/// <remarks>
/// <para><b>Formula.</b> state = (1 - s) state(hardening temperature) + s state(annealed), for matrix contents and carbide volumes; s is fixed by the user. The annealed
/// state is the equilibrium at the annealing temperature, its matrix ferrite or austenite.</para>
/// <para><b>Assumptions.</b> All elements lag alike. Not a kinetic law: it shows what a short soak would do, in the direction in which it does it.</para>
/// <para><b>Range.</b> s from 0 to 0.9; annealing at 700 to 900 °C.</para>
/// <para><b>Source.</b> Our assumption.</para>
/// </remarks>
public sealed class PartialSoak : ISoakAssumption
{
    /// <summary>Highest share that is taken as undissolved.</summary>
    public const double HighestShare = 0.9;

    private readonly double _share, _annealedTemperatureK;

    /// <summary>A short soak.</summary>
    /// <param name="undissolvedShare">Share of what should dissolve that has not, 0 to 0.9.</param>
    /// <param name="annealedTemperatureK">Temperature of the annealed state, K.</param>
    /// <exception cref="OutsideModelRangeException">Share or temperature outside the range.</exception>
    public PartialSoak(double undissolvedShare, double annealedTemperatureK = 780 + 273.15)
    {
        if (!(undissolvedShare is >= 0 and <= HighestShare)) throw new OutsideModelRangeException("Short soak", "undissolved share", undissolvedShare, 0, HighestShare, "");
        if (!(annealedTemperatureK is >= 973.15 and <= 1173.15)) throw new OutsideModelRangeException("Short soak", "annealing temperature", annealedTemperatureK - 273.15, 700, 900, "°C");
        (_share, _annealedTemperatureK) = (undissolvedShare, annealedTemperatureK);
    }

    /// <inheritdoc/>
    public string Words => string.Create(CultureInfo.InvariantCulture,
        $"Short soak: {_share:P0} of what would dissolve from the annealed state ({_annealedTemperatureK - 273.15:0} °C) is taken as undissolved (fixed by the user, no kinetic law).");

    /// <inheritdoc/>
    public ISoak Near(AlloyContent steel, double temperatureK) =>
        new Mixture(new EquilibriumSoak().Near(steel, temperatureK), EquilibriumSoak.Annealed(steel, _annealedTemperatureK), _share);

    /// <inheritdoc/>
    public IReadOnlyList<string> WarningsFor(AlloyContent steel, double temperatureK) => new EquilibriumSoak().WarningsFor(steel, temperatureK);

    private sealed class Mixture(ISoak hot, ISoak annealed, double share) : ISoak
    {
        public SoakedState Of(AlloyContent steel)
        {
            SoakedState a = hot.Of(steel), b = annealed.Of(steel);
            AlloyContent matrix = default;
            foreach (AlloyElement e in AlloyContent.Elements) matrix[e] = (1 - share) * a.Austenite[e] + share * b.Austenite[e];
            CarbideVolumes carbides = default;
            foreach (CarbideKind kind in s_kinds) carbides[kind] = (1 - share) * a.Carbides[kind] + share * b.Carbides[kind];
            return new(matrix, carbides, a.FerriteVolumeFraction);
        }
    }

    private static readonly CarbideKind[] s_kinds = Enum.GetValues<CarbideKind>();
}
