using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;

namespace Meltwise.Casework.Explaining;

/// <summary>How much of a hardness difference two heats' chemistry explains, by the names of the command contract. Terminal, JSON, page and report read only this.</summary>
/// <remarks>Differences are candidate less reference. Contents in mass percent; carbide and retained austenite as volume fractions of the whole, 0 to 1.</remarks>
public sealed record ExplanationDocument
{
    /// <summary>Name and version of this form.</summary>
    public string Schema { get; init; } = "meltwise-explanation-1";

    /// <summary>The reference heat and its computed state.</summary>
    public required ExplainedHeat Reference { get; init; }

    /// <summary>The candidate heat and its computed state.</summary>
    public required ExplainedHeat Candidate { get; init; }

    /// <summary>The treatment both had, in words.</summary>
    public required string Treatment { get; init; }

    /// <summary>Candidate less reference.</summary>
    public required StateIntervals Difference { get; init; }

    /// <summary>What the computed hardness is: as quenched, after low tempers, by a published temper curve, or before secondary hardening; null in documents of older versions.</summary>
    public string? HardnessMeaning { get; init; }

    /// <summary>What each element contributes, largest first.</summary>
    public required IReadOnlyList<Contribution> Contributions { get; init; }

    /// <summary>Observed hardness difference, HRC; null when none was given.</summary>
    public ObservedDifference? Observed { get; init; }

    /// <summary>Computed over observed; null when there is nothing to divide by.</summary>
    public ExplainedInterval? ExplainedShare { get; init; }

    /// <summary>Observed less computed, HRC.</summary>
    public ExplainedInterval? LeftOverHrc { get; init; }

    /// <summary>One standard deviation of the chain's own error in a difference, HRC.</summary>
    public required double ChainErrorHrc { get; init; }

    /// <summary><c>measured</c>, <c>consistent</c> or <c>speculative</c>.</summary>
    public required string Strength { get; init; }

    /// <summary>The finding in words.</summary>
    public required string Text { get; init; }

    /// <summary>Oxygen of both heats, where it was measured.</summary>
    public OxygenComparison? Oxygen { get; init; }

    /// <summary>Oxides, flaws and growth of carbides of each heat, the reference first; null in documents of older versions.</summary>
    public IReadOnlyList<HeatOutlookDocument>? Outlooks { get; init; }

    /// <summary>What a reader must know; never empty.</summary>
    public required IReadOnlyList<string> Notes { get; init; }

    /// <summary>Models and data used.</summary>
    public required IReadOnlyList<string> Sources { get; init; }

    /// <summary>The bench's own cases of the chain with their residuals; null when there are none.</summary>
    public CalibrationDocument? Calibration { get; init; }

    /// <summary>Publications behind the equilibrium, each with its parameters; null in documents of older versions.</summary>
    public IReadOnlyList<ParameterCitation>? ParameterCitations { get; init; }

    /// <summary>Random draws made.</summary>
    public required int Draws { get; init; }

    /// <summary>Their seed.</summary>
    public required ulong Seed { get; init; }

    /// <summary>From the computed explanation.</summary>
    public static ExplanationDocument Of(ChemistryExplanation explanation, OxygenComparison? oxygen = null) => new()
    {
        Reference = new(explanation.ReferenceName, StateIntervals.Of(explanation.Reference)),
        Candidate = new(explanation.CandidateName, StateIntervals.Of(explanation.Candidate)),
        Treatment = TreatmentWords.Of(explanation.Treatment),
        Difference = StateIntervals.Of(explanation.Difference),
        HardnessMeaning = explanation.HardnessMeaning,
        Contributions = [.. explanation.Contributions.OrderByDescending(c => Math.Abs(c.HardnessHrc.Estimate))
            .Select(c => new Contribution(c.Element, c.MassPercentDifference, ExplainedInterval.Of(c.HardnessHrc), ExplainedInterval.Of(c.CarbonInAustenite)))],
        Observed = explanation.Observed is { } seen ? new(seen.Hrc, seen.StandardUncertainty) : null,
        ExplainedShare = explanation.ExplainedShare is { } share ? ExplainedInterval.Of(share) : null,
        LeftOverHrc = explanation.LeftOverHrc is { } left ? ExplainedInterval.Of(left) : null,
        ChainErrorHrc = explanation.ChainErrorHrc,
        Strength = explanation.Strength switch { Metallurgy.Explanation.Strength.Measured => "measured", Metallurgy.Explanation.Strength.Consistent => "consistent", _ => "speculative" },
        Text = explanation.Sentence,
        Oxygen = oxygen,
        Notes = explanation.Notes,
        Sources = [.. explanation.Sources.Select(s => s.ToString())],
        Calibration = CalibrationDocument.Of(explanation),
        ParameterCitations = explanation.ParameterCitations,
        Draws = explanation.Draws,
        Seed = explanation.Seed,
    };
}

/// <summary>A heat with its computed state; the interval holds the models' own errors, which cancel in the difference.</summary>
public sealed record ExplainedHeat(string Heat, StateIntervals State);

/// <summary>An estimate with its interval.</summary>
public sealed record ExplainedInterval(double Estimate, double Lower, double Upper, double Level)
{
    /// <summary>From a computed interval.</summary>
    public static ExplainedInterval Of(Interval interval) => new(interval.Estimate, interval.Lower, interval.Upper, interval.Level);
}

/// <summary>State of hardened steel, or the difference of two.</summary>
public sealed record StateIntervals(
    ExplainedInterval CarbonInAustenite, ExplainedInterval ChromiumInAustenite, ExplainedInterval MolybdenumInAustenite, ExplainedInterval VanadiumInAustenite,
    ExplainedInterval TungstenInAustenite, ExplainedInterval CarbideVolumeFraction, IReadOnlyDictionary<string, ExplainedInterval> CarbidesByKind,
    ExplainedInterval MartensiteStartC, ExplainedInterval RetainedAustenite, ExplainedInterval HardnessHrc)
{
    /// <summary>From the chain's intervals.</summary>
    public static StateIntervals Of(ChainIntervals chain) => new(
        ExplainedInterval.Of(chain.CarbonInAustenite), ExplainedInterval.Of(chain.ChromiumInAustenite), ExplainedInterval.Of(chain.MolybdenumInAustenite),
        ExplainedInterval.Of(chain.VanadiumInAustenite), ExplainedInterval.Of(chain.TungstenInAustenite), ExplainedInterval.Of(chain.CarbideVolumeFraction),
        chain.CarbidesByKind.ToDictionary(k => k.Key.ToString(), k => ExplainedInterval.Of(k.Value), StringComparer.Ordinal),
        ExplainedInterval.Of(chain.MartensiteStartC), ExplainedInterval.Of(chain.RetainedAustenite), ExplainedInterval.Of(chain.HardnessHrc));
}

/// <summary>One element's part of the difference.</summary>
/// <param name="Element">Element symbol.</param>
/// <param name="MassPercentDifference">Difference of the contents, mass percent.</param>
/// <param name="HardnessHrc">Its part of the hardness difference, HRC.</param>
/// <param name="CarbonInAustenite">Its part of the difference of dissolved carbon, mass percent.</param>
public sealed record Contribution(string Element, double MassPercentDifference, ExplainedInterval HardnessHrc, ExplainedInterval CarbonInAustenite);

/// <summary>An observed hardness difference with its standard uncertainty, HRC.</summary>
public sealed record ObservedDifference(double Hrc, double StandardUncertainty);

/// <summary>Explanations as JSON and back.</summary>
public static class ExplanationJson
{
    private static readonly ExplanationJsonContext s_indented = new(new JsonSerializerOptions(ExplanationJsonContext.Default.Options)
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    });

    /// <summary>As indented JSON.</summary>
    public static string Write(ExplanationDocument document) => JsonSerializer.Serialize(document, s_indented.ExplanationDocument);

    /// <summary>Reads a stored explanation; null when another version wrote it.</summary>
    public static ExplanationDocument? TryRead(string json)
    {
        try
        {
            return JsonSerializer.Deserialize(json, s_indented.ExplanationDocument);
        }
        catch (JsonException)
        {
            // Derived from records: a form that cannot be read is made again.
            return null;
        }
    }
}

/// <summary>Generated (de)serialisation of an explanation.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull)]
[JsonSerializable(typeof(ExplanationDocument))]
internal sealed partial class ExplanationJsonContext : JsonSerializerContext;
