using Meltwise.Metallurgy.Equilibrium;
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
    ExplanationFinding Finding, Strength Strength, string Sentence, IReadOnlyList<string> Notes, IReadOnlyList<Source> Sources, int Draws, ulong Seed)
{
    /// <summary>What the hardness of each heat is: as quenched, after low tempers, by a published temper curve, or before secondary hardening.</summary>
    public required string HardnessMeaning { get; init; }

    /// <summary>The bench's own cases of this chain and how far it was off, or null.</summary>
    public ChainCalibration? Calibration { get; init; }

    /// <summary>Publications of the parameters of the equilibrium, for the elements of both steels.</summary>
    public required IReadOnlyList<ParameterCitation> ParameterCitations { get; init; }
}
