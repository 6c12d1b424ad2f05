using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Tempering;

namespace Meltwise.Casework.Explaining;

/// <summary>The bench's own cases of the chain: by how much it was off on each, and the hardness of both heats corrected by them.</summary>
/// <param name="Cases">Every past heat of the treatment, worst first.</param>
/// <param name="RawErrorHrc">Root mean square of measured less predicted, HRC.</param>
/// <param name="ScatterHrc">Scatter after the correction, HRC, one standard deviation.</param>
/// <param name="OffsetHrc">Measured less predicted at the mean of the cases, HRC.</param>
/// <param name="Slope">Slope of measured against predicted.</param>
/// <param name="Reference">Corrected hardness of the reference with the interval of a new case.</param>
/// <param name="Candidate">Corrected hardness of the candidate.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record CalibrationDocument(
    IReadOnlyList<CalibrationCase> Cases, double RawErrorHrc, double ScatterHrc, double OffsetHrc, double Slope, ExplainedInterval Reference, ExplainedInterval Candidate, IReadOnlyList<string> Notes)
{
    /// <summary>Of an explanation, or null when no own cases were given.</summary>
    public static CalibrationDocument? Of(ChemistryExplanation explanation)
    {
        ArgumentNullException.ThrowIfNull(explanation);
        if (explanation.Calibration is not { } c) return null;
        double level = explanation.Reference.HardnessHrc.Level;
        CorrectedHardness reference = c.Predict(explanation.Reference.HardnessHrc.Estimate, level), candidate = c.Predict(explanation.Candidate.HardnessHrc.Estimate, level);
        return new([.. c.Residuals.OrderByDescending(r => Math.Abs(r.AfterHrc)).Select(r => new CalibrationCase(r.Case.Name, r.Case.PredictedHrc, r.Case.MeasuredHrc, r.BeforeHrc, r.AfterHrc))],
            c.RawErrorHrc, c.ScatterHrc, c.OffsetHrc, c.Slope, Interval(reference), Interval(candidate), [.. reference.Notes.Concat(candidate.Notes).Distinct(StringComparer.Ordinal)]);
    }

    private static ExplainedInterval Interval(CorrectedHardness h) => new(h.Hrc, h.LowerHrc, h.UpperHrc, h.Level);
}

/// <summary>One past heat.</summary>
/// <param name="Heat">The heat.</param>
/// <param name="PredictedHrc">What the chain says, HRC.</param>
/// <param name="MeasuredHrc">What was read, HRC.</param>
/// <param name="BeforeHrc">Measured less predicted, HRC.</param>
/// <param name="AfterHrc">Measured less corrected, HRC.</param>
public sealed record CalibrationCase(string Heat, double PredictedHrc, double MeasuredHrc, double BeforeHrc, double AfterHrc);
