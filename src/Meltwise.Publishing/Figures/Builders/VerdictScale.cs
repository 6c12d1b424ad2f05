using Meltwise.Casework.Judging;

namespace Meltwise.Publishing.Figures;

/// <summary>The axis that coupons and answers of a verdict share: ratios of the reference mean, or differences from it.</summary>
internal sealed record VerdictScale(bool IsRatio, double Reference, double Low, double High, double Min, double Max, string NarrowLevel, string WideLevel)
{
    public double Null => IsRatio ? 1 : 0;

    public AxisScale Axis => IsRatio ? AxisScale.Logarithmic : AxisScale.Linear;

    public bool HasMargin => double.IsFinite(Low) && double.IsFinite(High);

    public string MarginText => IsRatio ? $"{FigureNumbers.Ratio(Low)} to {FigureNumbers.Ratio(High)}" : $"±{FigureNumbers.Value(High)}";

    /// <summary>The reading that stands over a ratio or difference.</summary>
    public double ToValue(double contrast) => IsRatio ? contrast * Reference : contrast + Reference;

    /// <summary>Fraction of the axis at a reading.</summary>
    public double Fraction(double value) => IsRatio ? Math.Log(value / Reference / Min) / Math.Log(Max / Min) : (value - Reference - Min) / (Max - Min);

    /// <summary>The scale that holds every coupon, the margin and the intervals.</summary>
    public static VerdictScale Of(Verdict verdict)
    {
        AppliedRule rule = verdict.Rule;
        bool ratio = rule.Scale == "log";
        // A lot that nobody read has no mean; the other one, or none, then sets the scale.
        Lot? reference = verdict.Lots.FirstOrDefault(l => l is { Role: "reference", N: > 0 }) ?? verdict.Lots.FirstOrDefault(l => l.N > 0);
        double mean = reference is null ? 1 : ratio ? reference.GeometricMean ?? reference.Mean : reference.Mean;
        (double low, double high) = ratio ? (rule.MarginLow ?? double.NaN, rule.MarginHigh ?? double.NaN) : (-rule.MarginAbs ?? double.NaN, rule.MarginAbs ?? double.NaN);
        List<double> shown = [low, high, ratio ? 1 : 0];
        shown.AddRange(verdict.Lots.SelectMany(l => l.Coupons).Select(c => ratio ? c.Value / mean : c.Value - mean));
        shown.AddRange(verdict.LeftOut.Where(c => c.Value is not null).Select(c => ratio ? c.Value!.Value / mean : c.Value!.Value - mean));
        foreach (VerdictAnswer answer in VerdictAnswers.Of(verdict))
        {
            if (answer.Wide is { } wide)
                shown.AddRange([wide.Low, wide.High]);
        }
        shown.RemoveAll(v => !double.IsFinite(v) || (ratio && v <= 0));
        (double min, double max) = (shown.Min(), shown.Max());
        if (ratio)
        {
            (min, max) = (Math.Max(min, 0.05), Math.Min(max, 20));
            double room = Math.Max(Math.Pow(max / min, 0.06), 1.02);
            (min, max) = (min / room, max * room);
        }
        else
        {
            double room = 0.06 * (max > min ? max - min : Math.Max(1, Math.Abs(max)));
            (min, max) = (min - room, max + room);
        }
        return new(ratio, mean, low, high, min, max, FigureNumbers.Level(1 - (2 * rule.Alpha)), FigureNumbers.Level(1 - rule.Alpha));
    }
}
