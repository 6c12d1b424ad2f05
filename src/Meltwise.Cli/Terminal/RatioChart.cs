using System.Globalization;
using Meltwise.Casework.Judging;

namespace Meltwise.Cli.Terminal;

/// <summary>Intervals against the margin in plain characters: shade is the margin, thick the narrow interval, thin the wide one, a lozenge the estimate.</summary>
/// <param name="low">Lower limit of the margin.</param>
/// <param name="centre">No difference: 1 on a log scale, 0 on a linear one.</param>
/// <param name="high">Upper limit of the margin.</param>
/// <param name="logarithmic">Whether the axis is logarithmic.</param>
/// <param name="columns">Characters across.</param>
internal sealed class RatioChart(double low, double centre, double high, bool logarithmic, int columns)
{
    private double _from = double.NaN;
    private double _to = double.NaN;

    /// <summary>One line of the chart: the estimate with both intervals.</summary>
    internal sealed record Row(double Estimate, double NarrowLower, double NarrowUpper, double WideLower, double WideUpper)
    {
        public static Row? Of(EstimandResult result, bool logarithmic) => logarithmic
            ? result is { Ratio: { } wide, RatioForMargin: { } narrow } ? new(wide.Estimate, narrow.Lower, narrow.Upper, wide.Lower, wide.Upper) : null
            : result is { Difference: { } wideDifference, DifferenceForMargin: { } narrowDifference }
                ? new(wideDifference.Estimate, narrowDifference.Lower, narrowDifference.Upper, wideDifference.Lower, wideDifference.Upper) : null;
    }

    /// <summary>Widens the axis so that the margin and every interval fit, up to three times the margin's width on each side.</summary>
    public void Fit(IEnumerable<Row> rows)
    {
        double reach = 3 * (Scale(high) - Scale(low));
        (double from, double to) = (Scale(low), Scale(high));
        foreach (Row row in rows)
        {
            from = Math.Min(from, Math.Max(Scale(row.WideLower), Scale(low) - reach));
            to = Math.Max(to, Math.Min(Scale(row.WideUpper), Scale(high) + reach));
        }
        double edge = 0.04 * (to - from);
        (_from, _to) = (Unscale(from - edge), Unscale(to + edge));
    }

    /// <summary>The row as characters.</summary>
    public string Draw(Row? row)
    {
        char[] line = new char[columns];
        Array.Fill(line, ' ');
        Fill(line, low, high, '░');
        Put(line, centre, '┊');
        if (row is null) return new string(line);
        Fill(line, row.WideLower, row.WideUpper, '─');
        Fill(line, row.NarrowLower, row.NarrowUpper, '━');
        Put(line, row.WideLower, '├');
        Put(line, row.WideUpper, '┤');
        Put(line, row.Estimate, '◆');
        return new string(line);
    }

    /// <summary>The axis: the limits of the margin and no difference, each written where it lies.</summary>
    public string Axis()
    {
        char[] line = new char[columns + 6];
        Array.Fill(line, ' ');
        // The limits first: where there is no room for all three, a reader misses the middle least.
        foreach (double value in new[] { low, high, centre })
        {
            string text = value.ToString(logarithmic ? "0.00" : "0.##", CultureInfo.InvariantCulture);
            int start = Math.Clamp(Column(value) - (text.Length / 2), 0, line.Length - text.Length);
            int from = Math.Max(0, start - 1), to = Math.Min(line.Length, start + text.Length + 1);
            if (line.AsSpan(from..to).IndexOfAnyExcept(' ') < 0) text.CopyTo(line.AsSpan(start));
        }
        return new string(line).TrimEnd();
    }

    private void Fill(char[] line, double from, double to, char mark)
    {
        for (int i = Math.Max(0, Column(from)); i <= Math.Min(columns - 1, Column(to)); i++) line[i] = mark;
    }

    private void Put(char[] line, double value, char mark)
    {
        int i = Column(value);
        if (i >= 0 && i < columns) line[i] = mark;
    }

    private int Column(double value) => (int)Math.Round((Scale(value) - Scale(_from)) / (Scale(_to) - Scale(_from)) * (columns - 1));

    private double Scale(double value) => logarithmic ? Math.Log(Math.Max(value, 1e-12)) : value;

    private double Unscale(double value) => logarithmic ? Math.Exp(value) : value;
}
