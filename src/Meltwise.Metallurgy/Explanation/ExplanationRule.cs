using System.Globalization;
using Meltwise.Metallurgy.Sources;
using Meltwise.Metallurgy.Tempering;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>The judgement of an explanation: from intervals to a finding, its strength and a sentence.</summary>
/// <remarks>
/// <para><b>Rule.</b> With P the interval of the computed difference and L that of observed less computed (measurement uncertainty in it): P of the observed
/// sign and L holds 0: explains. P of the observed sign and L beyond 0: explains part. P holds 0 or has the other sign and L beyond 0 by more than
/// the chain's own error (two standard deviations of it): cannot be explained by chemistry. All else: cannot be told.</para>
/// <para><b>Strength.</b> Consistent when it explains, wholly or in part, or cannot explain; speculative when it cannot be told. After tempers above 260 °C speculative also unless a published
/// temper curve that was read holds both steels, or the bench's own cases of this very treatment calibrate the chain.</para>
/// </remarks>
public static class ExplanationRule
{
    /// <summary>Error of the chain in one heat where the bench has no own cases, HRC.</summary>
    public const double ChainErrorWithoutHistoryHrc = 1;

    /// <summary>The finding.</summary>
    /// <param name="computed">Computed difference, HRC.</param>
    /// <param name="observed">Observed difference, or null.</param>
    /// <param name="leftOver">Observed less computed, or null.</param>
    /// <param name="chainErrorHrc">One standard deviation of the chain's error in a difference.</param>
    public static ExplanationFinding Finding(Interval computed, ObservedHardnessDifference? observed, Interval? leftOver, double chainErrorHrc)
    {
        if (observed is not { } seen || leftOver is not { } left) return ExplanationFinding.PredictionOnly;
        if (Math.Abs(seen.Hrc) <= 1.96 * seen.StandardUncertainty) return ExplanationFinding.NothingToExplain;
        bool sameSign = seen.Hrc > 0 ? computed.Lower > 0 : computed.Upper < 0;
        bool remains = !left.Holds(0);
        if (sameSign && remains && Math.Sign(left.Estimate) == Math.Sign(seen.Hrc)) return ExplanationFinding.ExplainsPart;
        if (sameSign) return remains && Math.Abs(left.Estimate) > 2 * chainErrorHrc ? ExplanationFinding.CannotBeTold : ExplanationFinding.Explains;
        return remains && Math.Sign(left.Estimate) == Math.Sign(seen.Hrc) && Math.Abs(left.Estimate) > 2 * chainErrorHrc
            ? ExplanationFinding.CannotBeExplained
            : ExplanationFinding.CannotBeTold;
    }

    /// <summary>The strength.</summary>
    /// <param name="finding">The finding.</param>
    /// <param name="temper">What the tempers add, and from where.</param>
    /// <param name="hasOwnCases">Whether the bench's own cases of the treatment calibrate the chain.</param>
    public static Strength StrengthOf(ExplanationFinding finding, TemperShift temper, bool hasOwnCases) =>
        !hasOwnCases && temper is { Region: TemperRegion.High or TemperRegion.Trough, Curve: null or { Status: not SourceStatus.Retrieved } } ? Strength.Speculative : finding switch
        {
            ExplanationFinding.Explains or ExplanationFinding.ExplainsPart or ExplanationFinding.CannotBeExplained => Strength.Consistent,
            _ => Strength.Speculative,
        };

    /// <summary>The finding in words.</summary>
    /// <param name="names">The two steels: the one, and the one it is taken from.</param>
    /// <param name="finding">The finding.</param>
    /// <param name="computed">Computed difference, HRC.</param>
    /// <param name="observed">Observed difference, or null.</param>
    /// <param name="leftOver">Observed less computed, or null.</param>
    /// <param name="chainErrorHrc">One standard deviation of the chain's error in a difference.</param>
    public static string Sentence((string One, string Less) names, ExplanationFinding finding, Interval computed, ObservedHardnessDifference? observed, Interval? leftOver, double chainErrorHrc)
    {
        string part = string.Create(CultureInfo.InvariantCulture, $"{computed.Estimate:0.0;−0.0} ± {computed.HalfWidth:0.0}");
        string of = observed is { } o ? string.Create(CultureInfo.InvariantCulture, $"{o.Hrc:0.0;−0.0} HRC") : "";
        string left = leftOver is { } l
            ? string.Create(CultureInfo.InvariantCulture, $" Left over: {l.Estimate:0.0;−0.0} ± {l.HalfWidth:0.0} HRC, {(Math.Abs(l.Estimate) <= 2 * chainErrorHrc ? "inside" : "beyond")} the chain's own error of {chainErrorHrc:0.0} HRC, 1 sigma.")
            : "";
        return finding switch
        {
            ExplanationFinding.PredictionOnly => $"From chemistry alone, the hardness of {names.One} less that of {names.Less} is expected to be {part} HRC.",
            ExplanationFinding.NothingToExplain => $"The observed {of} is not distinguishable from none; chemistry computes {part} HRC.",
            ExplanationFinding.Explains when leftOver is { } over && observed is { } seen && !over.Holds(0) && over.Estimate * seen.Hrc < 0 => $"Consistent with chemistry in direction: it computes {part}, more than the {of}.{left}",
            ExplanationFinding.Explains => $"Consistent with chemistry: it explains {part} of the {of}.{left}",
            ExplanationFinding.ExplainsPart => $"Chemistry explains {part} of the {of}; part of it has another cause, or the chain is off.{left}",
            ExplanationFinding.CannotBeExplained => $"The {of} cannot be explained by chemistry, which computes {part} HRC. Look at treatment, load, surface and measurement.{left}",
            _ => $"It cannot be told whether chemistry explains the {of}: it computes {part} HRC.{left}",
        };
    }
}
