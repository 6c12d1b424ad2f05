using System.Globalization;

namespace Meltwise.Metallurgy.Coarsening;

/// <summary>A stretch of a thermal history: straight from one temperature to another.</summary>
/// <param name="Step">What it was: consolidation, soak, reheat.</param>
/// <param name="StartC">Temperature at its start, °C.</param>
/// <param name="EndC">Temperature at its end, °C.</param>
/// <param name="Hours">How long, h.</param>
public readonly record struct ThermalStretch(string Step, double StartC, double EndC, double Hours);

/// <summary>The rate constant at one temperature, for interpolation.</summary>
/// <param name="TemperatureK">Temperature, K.</param>
/// <param name="RateM3S">K, m³/s.</param>
public readonly record struct RateAtTemperature(double TemperatureK, double RateM3S);

/// <summary>Radius of a carbide after a real thermal history: consolidation, soaks, reheats.</summary>
/// <remarks>
/// <para><b>Formula.</b> r³ = r0³ + ∫ K(T(t)) dt. K between the temperatures it was computed for is a straight line of ln K against 1/T; each stretch is
/// integrated by Gauss-Legendre with eight points.</para>
/// <para><b>Assumptions.</b> The carbide is in equilibrium with its austenite all along; no coalescence. Powder steels also coarsen by coalescence and
/// along boundaries, and what was in the powder stays: read the relative growth of two heats or two carbides.</para>
/// <para><b>Range.</b> Temperatures inside those of the given rates; colder stretches than the coldest given rate count as no growth, and a note
/// says so; hotter ones are refused.</para>
/// <para><b>Source.</b> The law of <see cref="CoarseningRate"/>.</para>
/// </remarks>
public static class ThermalHistory
{
    private static readonly double[] s_nodes = [0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363];
    private static readonly double[] s_weights = [0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763];

    /// <summary>Integrates a history.</summary>
    /// <param name="initialRadiusM">Radius before it, m.</param>
    /// <param name="history">Stretches in order.</param>
    /// <param name="rates">Rate constants, two or more temperatures, in any order.</param>
    /// <param name="multiplier">Empirical multiplier on every rate, see <see cref="CoarseningRate.EmpiricalMultiplier"/>.</param>
    /// <exception cref="ArgumentException">Too few rates, a negative time, or a stretch hotter than the rates.</exception>
    public static CarbideGrowth Grow(double initialRadiusM, IReadOnlyList<ThermalStretch> history, IReadOnlyList<RateAtTemperature> rates, double multiplier)
    {
        ArgumentNullException.ThrowIfNull(history);
        ArgumentNullException.ThrowIfNull(rates);
        if (rates.Count < 2) throw new ArgumentException("Give the rate at two or more temperatures that span the history.", nameof(rates));
        RateAtTemperature[] sorted = [.. rates.OrderBy(r => r.TemperatureK)];
        double cube = initialRadiusM * initialRadiusM * initialRadiusM;
        List<StretchGrowth> stretches = [];
        List<string> notes = ["Radius by the Lifshitz-Slyozov-Wagner law over the history; absolute sizes are uncertain, ratios of two heats are not."];
        foreach (ThermalStretch stretch in history)
        {
            Require(stretch, sorted);
            double before = Math.Cbrt(cube);
            cube += multiplier * Integral(stretch, sorted);
            stretches.Add(new(stretch, before, Math.Cbrt(cube)));
            if (Math.Min(stretch.StartC, stretch.EndC) + 273.15 < sorted[0].TemperatureK)
                notes.Add(string.Create(CultureInfo.InvariantCulture, $"{stretch.Step}: below {sorted[0].TemperatureK - 273.15:0} °C growth was taken as none."));
        }
        return new(initialRadiusM, Math.Cbrt(cube), multiplier, stretches, notes);
    }

    private static void Require(ThermalStretch s, RateAtTemperature[] sorted)
    {
        if (!(s.Hours >= 0)) throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"{s.Step}: the time is {s.Hours} h; it must be 0 or more."), nameof(s));
        double hottest = Math.Max(s.StartC, s.EndC) + 273.15;
        if (!(hottest <= sorted[^1].TemperatureK + 1e-9))
            throw new ArgumentException(string.Create(CultureInfo.InvariantCulture,
                $"{s.Step}: {hottest - 273.15:0} °C is above the hottest rate given, {sorted[^1].TemperatureK - 273.15:0} °C."), nameof(s));
    }

    private static double Integral(ThermalStretch s, RateAtTemperature[] sorted)
    {
        double a = s.StartC + 273.15, b = s.EndC + 273.15, coldest = sorted[0].TemperatureK;
        double from = 0, to = 1; // the part of the stretch that is hot enough to count
        if (a < coldest && b < coldest) return 0;
        if (a < coldest) from = (coldest - a) / (b - a);
        else if (b < coldest) to = (coldest - a) / (b - a);
        double sum = 0;
        for (int i = 0; i < s_nodes.Length; i++)
            sum += s_weights[i] * (Rate(At(-s_nodes[i])) + Rate(At(s_nodes[i])));
        return sum / 2 * (to - from) * s.Hours * 3600;

        double At(double node) => a + (b - a) * (from + (to - from) * (node + 1) / 2);
        double Rate(double temperatureK) => RateOf(temperatureK, sorted);
    }

    private static double RateOf(double temperatureK, RateAtTemperature[] sorted)
    {
        int i = 1;
        while (i < sorted.Length - 1 && sorted[i].TemperatureK < temperatureK) i++;
        (RateAtTemperature low, RateAtTemperature high) = (sorted[i - 1], sorted[i]);
        double weight = (1 / temperatureK - 1 / low.TemperatureK) / (1 / high.TemperatureK - 1 / low.TemperatureK);
        return Math.Exp(Math.Log(low.RateM3S) + weight * (Math.Log(high.RateM3S) - Math.Log(low.RateM3S)));
    }
}

/// <summary>Radius before and after one stretch, m.</summary>
/// <param name="Stretch">The stretch.</param>
/// <param name="RadiusBeforeM">Before.</param>
/// <param name="RadiusAfterM">After.</param>
public readonly record struct StretchGrowth(ThermalStretch Stretch, double RadiusBeforeM, double RadiusAfterM);

/// <summary>Growth of a carbide over a history.</summary>
/// <param name="InitialRadiusM">Radius before, m.</param>
/// <param name="FinalRadiusM">Radius after, m.</param>
/// <param name="Multiplier">Empirical multiplier used.</param>
/// <param name="Stretches">By stretch.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record CarbideGrowth(
    double InitialRadiusM, double FinalRadiusM, double Multiplier, IReadOnlyList<StretchGrowth> Stretches, IReadOnlyList<string> Notes);
