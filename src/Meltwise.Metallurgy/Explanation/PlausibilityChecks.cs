using System.Globalization;
using Meltwise.Metallurgy.Sources;
using Meltwise.Metallurgy.Transformation;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>What was measured on a heat besides its chemistry; null where it was not.</summary>
public sealed record HeatMeasurements
{
    /// <summary>Carbide area fraction of micrographs, 0 to 1.</summary>
    public double? CarbideAreaFraction { get; init; }

    /// <summary>Hardness of the coupons, HRC.</summary>
    public double? HardnessHrc { get; init; }

    /// <summary>Retained austenite, volume fraction of the whole.</summary>
    public double? RetainedAustenite { get; init; }
}

/// <summary>One check and whether it is out of the ordinary.</summary>
/// <param name="Name">What was checked.</param>
/// <param name="IsFlagged">Whether a person should look.</param>
/// <param name="Text">Found and expected, in words.</param>
public sealed record PlausibilityCheck(string Name, bool IsFlagged, string Text);

/// <summary>Automatic checks of a heat's numbers against each other and against the scope of the methods they came from.</summary>
/// <remarks>
/// <para><b>Rules.</b> Contents with iron within 0.5 of 100 %; vanadium above 5.5 % or oxygen above 300 ppm outside the written scope of the combustion and fusion standard
/// (E1019); computed carbide off the measured area fraction by more than a quarter; hardness off the forecast by more than twice the
/// chain's error; retained austenite outside the forecast's bar.</para>
/// <para><b>Meaning.</b> A flag asks for a look. It never excludes a value.</para>
/// <para><b>Source.</b> Scope of ASTM E1019 (read); limits of the other rules are common practice.</para>
/// </remarks>
public static class PlausibilityChecks
{
    private const double SumTolerance = 0.5, VanadiumScope = 5.5, OxygenScopePpm = 300, CarbideTolerance = 0.25;

    /// <summary>Scope of the combustion and fusion standard.</summary>
    public static Source Source { get; } = new("ASTM E1019, scope: V to 5.50 %, O to 0.03 %", SourceStatus.Retrieved);

    /// <summary>Checks of a heat's chemistry alone.</summary>
    public static IReadOnlyList<PlausibilityCheck> OfChemistry(HeatChemistry heat)
    {
        ArgumentNullException.ThrowIfNull(heat);
        List<PlausibilityCheck> checks = [];
        if (heat["Fe"] is { } iron)
        {
            double sum = heat.Contents.Sum(c => c.MassPercent);
            checks.Add(Check("sum of the contents", Math.Abs(sum - 100) > SumTolerance, $"{sum:0.00} wt% with iron {iron.MassPercent:0.00}; expected 100 ± {SumTolerance}"));
        }
        if (heat["V"] is { MassPercent: > VanadiumScope } v && heat.Contents.Any(c => c.Method is AnalyticalMethod.Combustion or AnalyticalMethod.InertGasFusion))
            checks.Add(Check("scope of combustion and fusion", true, $"V {v.MassPercent:0.0} wt% is above the 5.5 wt% in the scope of the standard; the laboratory must have validated carbon, sulphur, oxygen and nitrogen"));
        if (heat["O"] is { } o && 1e4 * o.MassPercent > OxygenScopePpm)
            checks.Add(Check("scope of fusion", true, $"O {1e4 * o.MassPercent:0} ppm is above the {OxygenScopePpm:0} ppm in the scope of the standard"));
        foreach (ElementContent content in heat.Contents)
            foreach (string note in content.Notes.Where(n => n.Contains("disagree", StringComparison.Ordinal)))
                checks.Add(new("two methods", true, note));
        return checks;
    }

    /// <summary>Checks of measurements against the forecast of a hardening.</summary>
    /// <param name="forecast">The forecast.</param>
    /// <param name="measured">What was measured.</param>
    /// <param name="chainErrorHrc">Error of the chain in one heat, HRC, one standard deviation: from own cases, or <see cref="ExplanationRule.ChainErrorWithoutHistoryHrc"/>.</param>
    public static IReadOnlyList<PlausibilityCheck> OfForecast(HardeningForecastResult forecast, HeatMeasurements measured, double chainErrorHrc)
    {
        ArgumentNullException.ThrowIfNull(forecast);
        ArgumentNullException.ThrowIfNull(measured);
        List<PlausibilityCheck> checks = [];
        double computed = forecast.Soaked.Carbides.Total;
        if (measured.CarbideAreaFraction is { } area)
            checks.Add(Check("carbide", Math.Abs(area - computed) > CarbideTolerance * computed, $"{100 * area:0.0} area% measured, {100 * computed:0.0} vol% computed; a quarter apart is usual at most"));
        if (measured.HardnessHrc is { } hrc && (forecast.TemperedHrc ?? (forecast.Tempering is null ? forecast.Quenched?.Hrc : null)) is { } expected)
            checks.Add(Check("hardness", Math.Abs(hrc - expected) > 2 * chainErrorHrc, $"{hrc:0.0} HRC measured, {expected:0.0} computed; the chain's error is {chainErrorHrc:0.0} HRC, 1 sigma"));
        if (measured.RetainedAustenite is { } retained)
        {
            RetainedAustenite bar = forecast.RetainedAustenite;
            double low = bar.OfMatrixLower * bar.MatrixShare, high = bar.OfMatrixUpper * bar.MatrixShare;
            checks.Add(Check("retained austenite", retained < low || retained > high, $"{100 * retained:0.0} vol% measured, {100 * low:0.0} to {100 * high:0.0} computed before tempering"));
        }
        return checks;
    }

    private static PlausibilityCheck Check(string name, bool flagged, FormattableString text) => new(name, flagged, text.ToString(CultureInfo.InvariantCulture) + ".");
}
