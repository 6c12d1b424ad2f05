using System.Globalization;
using Meltwise.Metallurgy.Sources;
using Meltwise.Metallurgy.Tempering;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>How strongly an explanation may be worded.</summary>
public enum Strength
{
    /// <summary>The thing itself was measured.</summary>
    Measured,
    /// <summary>The computation fits what was measured: "consistent with".</summary>
    Consistent,
    /// <summary>Neither shown nor excluded.</summary>
    Speculative,
}

/// <summary>What chemistry says of an observed hardness difference.</summary>
public enum ExplanationFinding
{
    /// <summary>No observed difference was given: a prediction only.</summary>
    PredictionOnly,
    /// <summary>The observed difference is not distinguishable from zero.</summary>
    NothingToExplain,
    /// <summary>Chemistry predicts a difference of the observed sign, and nothing is left over.</summary>
    Explains,
    /// <summary>Chemistry predicts a difference of the observed sign, and some is left over.</summary>
    ExplainsPart,
    /// <summary>What is left over is beyond the chemistry's uncertainty and the chain's own error, and chemistry predicts nothing of that sign.</summary>
    CannotBeExplained,
    /// <summary>The uncertainties are too wide to say.</summary>
    CannotBeTold,
}

/// <summary>An observed hardness difference, candidate less reference, HRC.</summary>
/// <param name="Hrc">Difference of the means.</param>
/// <param name="StandardUncertainty">Its standard uncertainty, session and indents included; 0 when not known.</param>
public readonly record struct ObservedHardnessDifference(double Hrc, double StandardUncertainty);

/// <summary>How the Monte Carlo is to be run.</summary>
public sealed record ExplanationOptions
{
    /// <summary>Draws, 100 or more.</summary>
    public int Draws { get; init; } = 10_000;

    /// <summary>Seed; the same seed gives the same numbers at any number of threads.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Probability of every interval.</summary>
    public double Level { get; init; } = 0.95;

    /// <summary>Threads; null takes one for each processor.</summary>
    public int? Threads { get; init; }

    /// <summary>What the soak reaches.</summary>
    public ISoakAssumption Soak { get; init; } = new EquilibriumSoak();

    /// <summary>The models' own errors.</summary>
    public ChainErrorSpread Spread { get; init; } = ChainErrorSpread.Published;

    /// <summary>The bench's own cases of this chain, or null.</summary>
    public ChainCalibration? Calibration { get; init; }
}

/// <summary>How much of a hardness difference of two heats their chemistry explains.</summary>
/// <param name="ReferenceName">Reference heat.</param>
/// <param name="CandidateName">Candidate heat.</param>
/// <param name="Treatment">The common treatment.</param>
/// <param name="Reference">The chain's answer for the reference, absolute; its bars are the models' own.</param>
/// <param name="Candidate">The chain's answer for the candidate.</param>
/// <param name="Difference">Candidate less reference; common errors cancel.</param>
/// <param name="Contributions">By element, Shapley values.</param>
/// <param name="Observed">What was measured, or null.</param>
/// <param name="ExplainedShare">Computed over observed, or null where there is nothing to divide by.</param>
/// <param name="LeftOverHrc">Observed less computed, HRC, or null.</param>
/// <param name="ChainErrorHrc">The chain's own error in a difference, HRC, one standard deviation.</param>
/// <param name="Finding">What chemistry says.</param>
/// <param name="Strength">How strongly it may be worded.</param>
/// <param name="Sentence">The finding in words.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
/// <param name="Sources">Models and data used.</param>
/// <param name="Draws">Draws made.</param>
/// <param name="Seed">Seed used.</param>
public sealed record ChemistryExplanation(
    string ReferenceName, string CandidateName, HardeningTreatment Treatment,
    ChainIntervals Reference, ChainIntervals Candidate, ChainIntervals Difference, IReadOnlyList<ElementContribution> Contributions,
    ObservedHardnessDifference? Observed, Interval? ExplainedShare, Interval? LeftOverHrc, double ChainErrorHrc,
    ExplanationFinding Finding, Strength Strength, string Sentence, IReadOnlyList<string> Notes, IReadOnlyList<Source> Sources, int Draws, ulong Seed);

/// <summary>The judgement of an explanation: from intervals to a finding, its strength and a sentence.</summary>
/// <remarks>
/// <para><b>Rule.</b> With P the interval of the computed difference and L that of observed less computed (measurement uncertainty in it): P of the observed
/// sign and L holds 0: explains. P of the observed sign and L beyond 0: explains part. P holds 0 or has the other sign and L beyond 0 by more than
/// the chain's own error (two standard deviations of it): cannot be explained by chemistry. All else: cannot be told.</para>
/// <para><b>Strength.</b> Consistent when it explains, wholly or in part, or cannot explain; speculative when it cannot be told, and always after tempers whose hardness the chain
/// does not compute.</para>
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
    public static Strength StrengthOf(ExplanationFinding finding, TemperRegion region) =>
        region is TemperRegion.High or TemperRegion.Trough ? Strength.Speculative : finding switch
        {
            ExplanationFinding.Explains or ExplanationFinding.ExplainsPart or ExplanationFinding.CannotBeExplained => Strength.Consistent,
            _ => Strength.Speculative,
        };

    /// <summary>The finding in words.</summary>
    public static string Sentence(ExplanationFinding finding, Interval computed, ObservedHardnessDifference? observed, Interval? leftOver, double chainErrorHrc)
    {
        string part = string.Create(CultureInfo.InvariantCulture, $"{computed.Estimate:0.0} ± {computed.HalfWidth:0.0}");
        string of = observed is { } o ? string.Create(CultureInfo.InvariantCulture, $"{o.Hrc:0.0} HRC") : "";
        string left = leftOver is { } l
            ? string.Create(CultureInfo.InvariantCulture, $" Left over: {l.Estimate:0.0} ± {l.HalfWidth:0.0} HRC, {(Math.Abs(l.Estimate) <= 2 * chainErrorHrc ? "inside" : "beyond")} the chain's own error of {chainErrorHrc:0.0} HRC, 1 sigma.")
            : "";
        return finding switch
        {
            ExplanationFinding.PredictionOnly => $"From chemistry alone the candidate is expected to differ by {part} HRC.",
            ExplanationFinding.NothingToExplain => $"The observed {of} is not distinguishable from none; chemistry computes {part} HRC.",
            ExplanationFinding.Explains when leftOver is { } over && observed is { } seen && !over.Holds(0) && over.Estimate * seen.Hrc < 0 => $"Consistent with chemistry in direction: it computes {part}, more than the {of}.{left}",
            ExplanationFinding.Explains => $"Consistent with chemistry: it explains {part} of the {of}.{left}",
            ExplanationFinding.ExplainsPart => $"Chemistry explains {part} of the {of}; part of it has another cause, or the chain is off.{left}",
            ExplanationFinding.CannotBeExplained => $"The {of} cannot be explained by chemistry, which computes {part} HRC. Look at treatment, load, surface and measurement.{left}",
            _ => $"It cannot be told whether chemistry explains the {of}: it computes {part} HRC.{left}",
        };
    }
}
