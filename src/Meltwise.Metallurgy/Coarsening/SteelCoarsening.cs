using System.Globalization;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Coarsening;

/// <summary>How each carbide of a steel grows over a thermal history: equilibria over the temperatures of the history, a rate for each carbide, the cube law.</summary>
/// <remarks>
/// <para><b>Method.</b> Equilibria at seven temperatures from the coldest of the history, but not below 900 °C, to its hottest; <see cref="CoarseningRate"/> of each carbide that is there at all
/// of them; <see cref="ThermalHistory"/>. Range of the final size: the empirical multiplier from 1 to 10.</para>
/// <para><b>Limits.</b> A carbide that dissolves within the history is left out, and a note says so. Same initial size for every carbide unless given by kind.</para>
/// </remarks>
public static class SteelCoarsening
{
    /// <summary>Below this no coarsening is counted, °C.</summary>
    public const double ColdestC = 900;

    private const int Temperatures = 7;

    /// <summary>Grows every carbide of a steel.</summary>
    /// <param name="steel">Composition of the steel, mass percent.</param>
    /// <param name="history">Stretches of the thermal history.</param>
    /// <param name="initialRadiusM">Radius of a kind before the history, m.</param>
    /// <exception cref="ArgumentException">A history that never reaches 900 °C.</exception>
    /// <exception cref="EquilibriumRefusedException">Steel or temperature outside the parameter set.</exception>
    public static SteelCoarseningResult Of(AlloyContent steel, IReadOnlyList<ThermalStretch> history, Func<CarbideKind, double> initialRadiusM)
    {
        ArgumentNullException.ThrowIfNull(history);
        ArgumentNullException.ThrowIfNull(initialRadiusM);
        double hottest = history.Count == 0 ? double.NaN : history.Max(s => Math.Max(s.StartC, s.EndC));
        if (!(hottest > ColdestC))
            throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"The history reaches {hottest:0} °C; carbides coarsen above {ColdestC:0} °C. Give its hot stretches."), nameof(history));
        double coldest = Math.Max(ColdestC, Math.Min(hottest - 1, history.Min(s => Math.Min(s.StartC, s.EndC))));

        SteelComposition composition = SteelComposition.FromMassPercent(AlloyContent.Elements.Where(e => steel[e] > 0)
            .Select(e => new KeyValuePair<string, double>(e.ToString(), steel[e])));
        EquilibriumRange.Require(composition, hottest + 273.15);
        EquilibriumSolver solver = EquilibriumSolver.For(composition);
        EquilibriumResult[] states = new EquilibriumResult[Temperatures];
        for (int i = 0; i < Temperatures; i++)
            states[i] = solver.Solve(composition, coldest + (hottest - coldest) * i / (Temperatures - 1) + 273.15, i == 0 ? null : states[i - 1]);

        List<CarbideCoarsening> carbides = [];
        List<string> notes = ["Compare carbides or heats under the same history; absolute sizes carry a factor of 3 and more in the rate."];
        foreach (CarbideKind kind in Enum.GetValues<CarbideKind>())
        {
            EquilibriumPhase?[] phases = [.. states.Select(s => s.Find(kind.ToString()))];
            if (phases.All(p => p is null)) continue;
            if (phases.Any(p => p is null))
            {
                notes.Add($"{kind} is not there at all temperatures of the history: left out.");
                continue;
            }
            carbides.Add(Grow(kind, states, history, initialRadiusM(kind)));
        }
        notes.AddRange(states[^1].Warnings.Select(w => w.Text));
        if (carbides.Count == 0) notes.Add("No carbide is there over the whole history.");
        return new([.. carbides.OrderByDescending(c => c.Growth.FinalRadiusM)], [.. CoarseningRate.Sources, CarbideProperties.VolumeSource, CarbideProperties.EnergySource], notes);
    }

    private static CarbideCoarsening Grow(CarbideKind kind, EquilibriumResult[] states, IReadOnlyList<ThermalStretch> history, double initialRadiusM)
    {
        CoarseningRateResult[] rates = [.. states.Select(s =>
            CoarseningRate.Of(kind, Content(s.Find(kind.ToString())!), Content(s.Austenite ?? s.Phases[0]), s.TemperatureK))];
        RateAtTemperature[] byTemperature = [.. rates.Select(r => new RateAtTemperature(r.TemperatureK, r.RateM3S))];
        CarbideGrowth With(double multiplier) => ThermalHistory.Grow(initialRadiusM, history, byTemperature, multiplier);
        return new(kind, rates[^1], With(CoarseningRate.EmpiricalMultiplier), With(1).FinalRadiusM, With(10).FinalRadiusM);
    }

    private static AlloyContent Content(EquilibriumPhase phase)
    {
        AlloyContent content = default;
        foreach ((string element, double massPercent) in phase.Composition)
            if (element != "Fe") content[Enum.Parse<AlloyElement>(element)] = massPercent;
        return content;
    }
}

/// <summary>Growth of one carbide.</summary>
/// <param name="Carbide">Kind.</param>
/// <param name="RateAtHottest">Rate at the hottest temperature, with what holds it back.</param>
/// <param name="Growth">Growth with the default multiplier.</param>
/// <param name="SmallestFinalRadiusM">With the law as printed, m.</param>
/// <param name="LargestFinalRadiusM">With ten times the law, m.</param>
public sealed record CarbideCoarsening(
    CarbideKind Carbide, CoarseningRateResult RateAtHottest, CarbideGrowth Growth, double SmallestFinalRadiusM, double LargestFinalRadiusM);

/// <summary>Growth of a steel's carbides, the coarsest first: the one that governs the final size.</summary>
/// <param name="Carbides">By kind.</param>
/// <param name="Sources">Law and data.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record SteelCoarseningResult(IReadOnlyList<CarbideCoarsening> Carbides, IReadOnlyList<Source> Sources, IReadOnlyList<string> Notes);
