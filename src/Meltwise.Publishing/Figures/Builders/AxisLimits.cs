namespace Meltwise.Publishing.Figures;

/// <summary>Limits of an axis that hold the values with a little room.</summary>
public static class AxisLimits
{
    /// <summary>The limits.</summary>
    /// <param name="values">Values to hold; those a log axis cannot hold are left out.</param>
    /// <param name="log">Log axis.</param>
    /// <param name="room">Room at each end, as a share of the span.</param>
    public static (double Min, double Max) Of(IEnumerable<double> values, bool log, double room = 0.06)
    {
        double[] held = [.. values.Where(v => double.IsFinite(v) && (!log || v > 0))];
        if (held.Length == 0)
            return log ? (1, 10) : (0, 1);
        (double min, double max) = (held.Min(), held.Max());
        if (log)
        {
            double factor = Math.Max(Math.Pow(max / min, room), 1.02);
            return (min / factor, max * factor);
        }
        double step = Math.Max(room * (max - min), max > min ? 0 : Math.Max(1e-3, 0.05 * Math.Abs(max)));
        return (min - step, max + step);
    }
}
