using System.Globalization;

namespace Meltwise.Publishing.Figures;

/// <summary>Chooses ticks at round values: the densest list whose labels do not crowd.</summary>
/// <remarks>Steps are 1, 2, 2.5 or 5 times a power of ten. On a log axis that spans less than a factor of about 6 the same steps are used and crowded ones left out;
/// over longer spans the values are 1-2-5 or 1-3 times powers of ten. Common practice, no source.</remarks>
public static class AxisTicks
{
    private static readonly double[][] s_mantissas = [[1, 1.5, 2, 3, 4, 5, 6, 7, 8, 9], [1, 1.5, 2, 3, 4, 5, 7], [1, 2, 3, 5, 7], [1, 2, 5], [1, 3], [1]];

    /// <summary>Ticks between two limits.</summary>
    /// <param name="axis">Axis; its scale and limits.</param>
    /// <param name="lengthPx">Drawn length, px.</param>
    /// <param name="gapPx">Least distance of two labels, px.</param>
    public static IReadOnlyList<Tick> Choose(Axis axis, double lengthPx, double gapPx)
    {
        if (axis.Ticks is { } given)
            return [.. given.Where(t => axis.Fraction(t.Value) is >= -1e-9 and <= 1 + 1e-9)];
        if (axis.Scale == AxisScale.Rows || !(axis.Max > axis.Min))
            return [];
        if (axis.Scale == AxisScale.Linear)
            return Linear(axis.Min, axis.Max, Math.Max(1, lengthPx / (1.3 * gapPx)));
        if (axis.Max / axis.Min < 6)
            return ShortLog(axis, lengthPx, gapPx);
        foreach (double[] mantissas in s_mantissas)
        {
            List<Tick> ticks = Decades(axis.Min, axis.Max, mantissas);
            if (SmallestGap(axis, ticks, lengthPx) >= gapPx)
                return ticks;
        }
        return Thin(axis, Decades(axis.Min, axis.Max, [1]), lengthPx, gapPx);
    }

    /// <summary>Round linear ticks, at most <paramref name="most"/> steps.</summary>
    public static IReadOnlyList<Tick> Linear(double min, double max, double most)
    {
        double step = Step((max - min) / most);
        int decimals = Decimals(step);
        List<Tick> ticks = [];
        for (double k = Math.Ceiling((min / step) - 1e-9); k <= (max / step) + 1e-9; k++)
            ticks.Add(new(k * step, Write(k * step, decimals)));
        return ticks;
    }

    /// <summary>Ticks of a ratio axis: the margin's limits, 1, and round values between.</summary>
    public static IReadOnlyList<Tick> Ratio(double min, double max, params double[] limits)
    {
        double[] round = [0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.25, 1.4, 1.6, 2, 2.5, 3, 4, 5, 7, 10];
        List<double> kept = [.. limits.Append(1).Distinct().Where(v => v > 0)];
        double gap = Math.Log(max / min) / 9;
        foreach (double value in round)
        {
            if (kept.TrueForAll(k => Math.Abs(Math.Log(k / value)) > gap * 0.72))
                kept.Add(value);
        }
        return [.. kept.Where(v => v >= min && v <= max).Order().Select(v => new Tick(v, Write(v, 2)))];
    }

    /// <summary>A number with a true minus sign.</summary>
    public static string Write(double value, int decimals)
    {
        double rounded = Math.Round(value, decimals) + 0.0;
        return rounded.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture).Replace('-', '−');
    }

    private static double Step(double least)
    {
        double power = Math.Pow(10, Math.Floor(Math.Log10(least)));
        foreach (double factor in (ReadOnlySpan<double>)[1, 2, 2.5, 5])
        {
            if (factor * power >= least * (1 - 1e-9))
                return factor * power;
        }
        return 10 * power;
    }

    private static int Decimals(double step)
    {
        int decimals = 0;
        while (decimals < 12 && Math.Abs((step * Math.Pow(10, decimals)) - Math.Round(step * Math.Pow(10, decimals))) > 1e-6)
            decimals++;
        return decimals;
    }

    private static IReadOnlyList<Tick> ShortLog(Axis axis, double lengthPx, double gapPx)
    {
        double widest = axis.Max - axis.At(1 - Math.Min(0.9, gapPx / lengthPx));
        double narrowest = axis.At(Math.Min(0.9, gapPx / lengthPx)) - axis.Min;
        double step = Step(Math.Sqrt(widest * narrowest));
        double mantissa = step / Math.Pow(10, Math.Floor(Math.Log10(step) + 1e-9));
        if (Math.Abs(mantissa - 2.5) < 1e-6)
            (step, mantissa) = (2 * step, 5);
        double coarser = step * (Math.Abs(mantissa - 2) < 1e-6 ? 5 : 2);
        List<Tick> kept = [];
        foreach (Tick tick in Linear(axis.Min, axis.Max, (axis.Max - axis.Min) / step).OrderBy(t => Rank(t.Value, step, coarser)))
        {
            if (kept.TrueForAll(k => Math.Abs(axis.Fraction(tick.Value) - axis.Fraction(k.Value)) * lengthPx >= gapPx))
                kept.Add(tick);
        }
        return [.. kept.OrderBy(t => t.Value)];
    }

    // Rounder values are placed first, so that 70 and 80 stay where 65 and 75 would crowd them.
    private static int Rank(double value, double step, double coarser) => IsMultiple(value, 10 * step) ? 0 : IsMultiple(value, coarser) ? 1 : 2;

    private static bool IsMultiple(double value, double of) => Math.Abs((value / of) - Math.Round(value / of)) < 1e-6;

    private static List<Tick> Decades(double min, double max, double[] mantissas)
    {
        List<Tick> ticks = [];
        for (int decade = (int)Math.Floor(Math.Log10(min)); decade <= Math.Ceiling(Math.Log10(max)); decade++)
        {
            foreach (double mantissa in mantissas)
            {
                double value = mantissa * Math.Pow(10, decade);
                if (value >= min * (1 - 1e-9) && value <= max * (1 + 1e-9))
                    ticks.Add(new(value, Write(value, Decimals(value))));
            }
        }
        return ticks;
    }

    private static double SmallestGap(Axis axis, List<Tick> ticks, double lengthPx)
    {
        double gap = double.PositiveInfinity;
        for (int i = 1; i < ticks.Count; i++)
            gap = Math.Min(gap, (axis.Fraction(ticks[i].Value) - axis.Fraction(ticks[i - 1].Value)) * lengthPx);
        return ticks.Count == 0 ? 0 : gap;
    }

    private static List<Tick> Thin(Axis axis, IReadOnlyList<Tick> ticks, double lengthPx, double gapPx)
    {
        List<Tick> kept = [];
        foreach (Tick tick in ticks)
        {
            if (kept.Count == 0 || (axis.Fraction(tick.Value) - axis.Fraction(kept[^1].Value)) * lengthPx >= gapPx)
                kept.Add(tick);
        }
        return kept;
    }
}
