using System.Globalization;

namespace Meltwise.Metallurgy.Tempering;

/// <summary>One past case of the bench: what the chain predicted and what was measured.</summary>
/// <param name="Name">Heat, or heat and treatment, so that a residual can be traced.</param>
/// <param name="PredictedHrc">The chain's uncorrected answer.</param>
/// <param name="MeasuredHrc">The bench's own hardness.</param>
public readonly record struct PastCase(string Name, double PredictedHrc, double MeasuredHrc);

/// <summary>What is believed of the chain before the bench's own cases are seen.</summary>
/// <param name="OffsetSdHrc">Standard deviation of the chain's offset, HRC.</param>
/// <param name="SlopeSd">Standard deviation of the slope about 1.</param>
/// <param name="ScatterHrc">Expected scatter about the line, HRC.</param>
/// <param name="Cases">How many cases that belief about scatter is worth.</param>
public readonly record struct CalibrationPrior(double OffsetSdHrc, double SlopeSd, double ScatterHrc, double Cases)
{
    /// <summary>From the models' own error bars: offset 0 ± 2 HRC, slope 1 ± 0.3, scatter 1 HRC, worth two cases.</summary>
    public static CalibrationPrior FromModelErrorBars { get; } = new(2, 0.3, 1, 2);
}

/// <summary>Corrects the chain's hardness by the bench's own history: a straight line, learnt from published error bars and past cases.</summary>
/// <remarks>
/// <para><b>Model.</b> measured = a + b (predicted - m) + e, e normal with variance s²; m is the mean of the predictions. Prior: a about m and b about 1,
/// normal with variances in units of s²; s² inverse gamma. The posterior is normal-inverse-gamma in closed form; a new case is predicted by Student's t.</para>
/// <para><b>Assumptions.</b> Past cases are exchangeable with the new one: same route, like grade, like treatment. Choose them so.</para>
/// <para><b>Range.</b> One case is enough to move the prior; below five the interval is mostly prior, and a note says so. Predictions beyond the past
/// cases are flagged.</para>
/// <para><b>Source.</b> Gelman and others, Bayesian Data Analysis, 3rd ed. (2013), section 14.2 with a conjugate prior; from memory.</para>
/// </remarks>
public sealed class ChainCalibration
{
    private readonly ConjugateRegression _line;
    private readonly double _centre, _lowestSeen, _highestSeen;

    /// <summary>Learns the correction.</summary>
    /// <param name="cases">Past cases, at least one.</param>
    /// <param name="prior">What is believed without them.</param>
    /// <exception cref="ArgumentException">No case, or a case that is not a number.</exception>
    public ChainCalibration(IReadOnlyList<PastCase> cases, CalibrationPrior prior)
    {
        ArgumentNullException.ThrowIfNull(cases);
        Require(cases);
        _centre = cases.Average(c => c.PredictedHrc);
        _lowestSeen = cases.Min(c => c.PredictedHrc);
        _highestSeen = cases.Max(c => c.PredictedHrc);

        // The regression is of measured less predicted: its slope is then near 0, and no digits are lost on the common part.
        _line = new([.. cases.Select(c => Row(c.PredictedHrc))], [.. cases.Select(c => c.MeasuredHrc - c.PredictedHrc)],
            [0, 0], [prior.OffsetSdHrc, prior.SlopeSd], prior.ScatterHrc, prior.Cases);
        Residuals = [.. cases.Select(c => new CalibrationResidual(c, c.MeasuredHrc - c.PredictedHrc, c.MeasuredHrc - Correct(c.PredictedHrc)))];
        RawErrorHrc = Math.Sqrt(cases.Average(c => (c.MeasuredHrc - c.PredictedHrc) * (c.MeasuredHrc - c.PredictedHrc)));
        Notes = MakeNotes(cases.Count);
    }

    /// <summary>How far the uncorrected chain was off: root mean square of measured less predicted, HRC.</summary>
    public double RawErrorHrc { get; }

    /// <summary>Scatter left after the correction (posterior), HRC, one standard deviation.</summary>
    public double ScatterHrc => _line.Scatter;

    /// <summary>Offset at the mean of the past predictions, HRC: measured less predicted.</summary>
    public double OffsetHrc => _line.Coefficient(0);

    /// <summary>Slope of measured against predicted; 1 means none to correct.</summary>
    public double Slope => 1 + _line.Coefficient(1);

    /// <summary>Standard uncertainty of the offset, HRC.</summary>
    public double OffsetSdHrc => _line.CoefficientSd(0);

    /// <summary>Standard uncertainty of the slope.</summary>
    public double SlopeSd => _line.CoefficientSd(1);

    /// <summary>Degrees of freedom of the prediction.</summary>
    public double DegreesOfFreedom => _line.DegreesOfFreedom;

    /// <summary>Every past case with its residual before and after the correction.</summary>
    public IReadOnlyList<CalibrationResidual> Residuals { get; }

    /// <summary>What a reader must know; the first is the sentence for the report.</summary>
    public IReadOnlyList<string> Notes { get; }

    /// <summary>Corrected value without interval, HRC.</summary>
    public double Correct(double predictedHrc) => predictedHrc + _line.At(Row(predictedHrc));

    /// <summary>Corrected value of a new case with its prediction interval.</summary>
    /// <param name="predictedHrc">The chain's uncorrected answer.</param>
    /// <param name="level">Probability of the interval, such as 0.95.</param>
    public CorrectedHardness Predict(double predictedHrc, double level)
    {
        double half = _line.HalfWidth(Row(predictedHrc), level);
        double corrected = Correct(predictedHrc);
        bool beyond = predictedHrc < _lowestSeen || predictedHrc > _highestSeen;
        return new(corrected, corrected - half, corrected + half, level, beyond
            ? [.. Notes, string.Create(CultureInfo.InvariantCulture, $"{predictedHrc:0.0} HRC lies beyond the past cases ({_lowestSeen:0.0} to {_highestSeen:0.0} HRC).")]
            : Notes);
    }

    private double[] Row(double predictedHrc) => [1, predictedHrc - _centre];

    private static void Require(IReadOnlyList<PastCase> cases)
    {
        if (cases.Count == 0)
            throw new ArgumentException("The bench has no past case to learn from. Record the measured hardness of a heat with known chemistry and treatment.", nameof(cases));
        foreach (PastCase c in cases)
            if (!double.IsFinite(c.PredictedHrc) || !double.IsFinite(c.MeasuredHrc))
                throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"Past case {c.Name}: predicted {c.PredictedHrc}, measured {c.MeasuredHrc} HRC. Both must be numbers."), nameof(cases));
    }

    private List<string> MakeNotes(int count)
    {
        List<string> notes =
        [
            string.Create(CultureInfo.InvariantCulture, $"This chain was off by {RawErrorHrc:0.0} HRC, 1 sigma, on your {count} {(count == 1 ? "heat" : "heats")}; after the correction the scatter is {_line.Scatter:0.0} HRC."),
        ];
        if (count < 5)
            notes.Add($"Only {count} past {(count == 1 ? "case" : "cases")}: the interval rests mostly on the models' published error bars.");
        return notes;
    }
}

/// <summary>One past case and how far it lies off.</summary>
/// <param name="Case">The case.</param>
/// <param name="BeforeHrc">Measured less predicted, HRC.</param>
/// <param name="AfterHrc">Measured less corrected, HRC.</param>
public readonly record struct CalibrationResidual(PastCase Case, double BeforeHrc, double AfterHrc);

/// <summary>A corrected hardness with its prediction interval.</summary>
/// <param name="Hrc">Corrected estimate.</param>
/// <param name="LowerHrc">Lower end.</param>
/// <param name="UpperHrc">Upper end.</param>
/// <param name="Level">Probability of the interval.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record CorrectedHardness(double Hrc, double LowerHrc, double UpperHrc, double Level, IReadOnlyList<string> Notes);
