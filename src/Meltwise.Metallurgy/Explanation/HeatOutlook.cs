using System.Globalization;
using Meltwise.Metallurgy.Carbides;
using Meltwise.Metallurgy.Coarsening;
using Meltwise.Metallurgy.Oxides;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>What is known of a heat besides its chemistry, as far as it is known.</summary>
public sealed record HeatBackground
{
    /// <summary>Oxygen of the bench's other heats of the same route, ppm by mass; empty when there are none.</summary>
    public IReadOnlyList<double> RouteOxygenPpm { get; init; } = [];

    /// <summary>Hot history: consolidation, soaks, reheats; empty when not known.</summary>
    public IReadOnlyList<ThermalStretch> History { get; init; } = [];

    /// <summary>Largest powder particle (sieve), m; null when not powder or not known.</summary>
    public double? PowderDiameterM { get; init; }

    /// <summary>Coupons that are or will be broken.</summary>
    public int Coupons { get; init; } = 12;

    /// <summary>Assumptions on oxides and coupon.</summary>
    public OxygenAssumptions Oxides { get; init; } = new();
}

/// <summary>What a heat's chemistry and history say beside hardness: carbon balance, oxygen with its rank and risk, growth of its carbides.</summary>
/// <remarks>
/// <para><b>Method.</b> <see cref="CarbonBalance"/>, <see cref="OxygenAssessment"/>, <see cref="OxygenRank"/>, <see cref="PowderSolidification"/> and <see cref="SteelCoarsening"/>; each part only where its input is known.</para>
/// <para><b>Initial size.</b> With a powder size, from its cooling rate at 10 % carbide; else 0.1 µm across for every carbide, and a note says so.</para>
/// </remarks>
public static class HeatOutlook
{
    private const double DefaultInitialRadiusM = 0.05e-6, CarbideAsFrozen = 0.1;

    /// <summary>The outlook of a heat.</summary>
    /// <exception cref="Sources.OutsideModelRangeException">A value outside the range of a part.</exception>
    /// <exception cref="Equilibrium.EquilibriumRefusedException">Steel or temperature outside the parameter set, where a history is given.</exception>
    public static HeatOutlookResult Of(HeatChemistry heat, HeatBackground background)
    {
        ArgumentNullException.ThrowIfNull(heat);
        ArgumentNullException.ThrowIfNull(background);
        List<string> notes = [];
        double? oxygenPpm = OxygenPpm(heat);
        if (oxygenPpm is null) notes.Add("No oxygen result, or one below the limit: nothing is said of oxides.");

        double? frozen = background.PowderDiameterM is { } d
            ? PowderSolidification.CarbideDiameterM(PowderSolidification.ArmSpacingM(PowderSolidification.CoolingRateKS(d)), CarbideAsFrozen)
            : null;
        SteelCoarseningResult? coarsening = null;
        bool isHot = background.History.Any(s => Math.Max(s.StartC, s.EndC) > SteelCoarsening.ColdestC);
        if (isHot)
        {
            double initial = frozen / 2 ?? DefaultInitialRadiusM;
            coarsening = SteelCoarsening.Of(heat.Alloy, background.History, _ => initial);
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"Carbides start at {2e6 * initial:0.00} µm across, {(frozen is null ? "our assumption" : "from the powder's cooling rate")}, the same for every kind."));
        }
        else if (background.History.Count > 0)
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"The hot history stays below {SteelCoarsening.ColdestC:0} °C: no growth of carbides is counted."));
        else notes.Add("No hot history: nothing is said of carbide growth. Record consolidation, soaks and reheats.");

        return new(CarbonBalance.Of(heat.Alloy),
            oxygenPpm is { } ppm ? OxygenAssessment.Of(ppm, background.Coupons, background.Oxides) : null,
            oxygenPpm is { } o && background.RouteOxygenPpm.Count > 0 ? OxygenRank.Of(o, background.RouteOxygenPpm) : null,
            frozen, coarsening, notes);
    }

    /// <summary>Oxygen of the candidate less that of the reference, ppm, with what their analyses share cancelling; null where one has no value.</summary>
    /// <param name="reference">Reference heat.</param>
    /// <param name="candidate">Candidate heat.</param>
    /// <param name="level">Probability of the interval.</param>
    public static Interval? OxygenDifferencePpm(HeatChemistry reference, HeatChemistry candidate, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(reference);
        ArgumentNullException.ThrowIfNull(candidate);
        if (reference["O"] is not { LimitMassPercent: null } r || candidate["O"] is not { LimitMassPercent: null } c) return null;
        double bias = r.SharesBiasWith(c) ? r.Uncertainty.Bias - c.Uncertainty.Bias : Math.Sqrt(Square(r.Uncertainty.Bias) + Square(c.Uncertainty.Bias));
        double sd = Math.Sqrt(Square(r.Uncertainty.Repeatability) + Square(c.Uncertainty.Repeatability) + Square(bias));
        double difference = 1e4 * (c.MassPercent - r.MassPercent), half = 1e4 * sd * Normal.Quantile((1 + level) / 2);
        return new(difference, difference - half, difference + half, level);
    }

    private static double? OxygenPpm(HeatChemistry heat) => heat["O"] is { LimitMassPercent: null, MassPercent: > 0 } o ? 1e4 * o.MassPercent : null;

    private static double Square(double x) => x * x;
}

/// <summary>Outlook of a heat.</summary>
/// <param name="Carbon">Carbon balance on paper.</param>
/// <param name="Oxygen">Oxides and flaw-governed coupons, or null without oxygen.</param>
/// <param name="OxygenRank">Rank within the route, or null without history.</param>
/// <param name="CarbideAsFrozenM">Diameter of the carbide as frozen from the powder size, m, or null; an upper estimate.</param>
/// <param name="Coarsening">Growth of each carbide, or null without a hot history.</param>
/// <param name="Notes">What is missing and what was assumed.</param>
public sealed record HeatOutlookResult(
    CarbonBalanceResult Carbon, OxygenAssessmentResult? Oxygen, OxygenRankResult? OxygenRank, double? CarbideAsFrozenM, SteelCoarseningResult? Coarsening, IReadOnlyList<string> Notes);
