using System.Globalization;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Hardness;

/// <summary>Converts a hardness from one scale to another by the published tables.</summary>
/// <remarks>
/// <para><b>Method.</b> Straight line between two neighbouring rows of one table. The two tables were made on different steels:
/// Rockwell C and Rockwell B are never chained, and a Vickers or Brinell value that both tables hold is converted by the table that
/// also holds the target scale.</para>
/// <para><b>Range.</b> 20 to 68 HRC (238 to 940 HV) and 55 to 100 HRB (100 to 240 HV); Brinell 226 to 739 in the C table. Nothing is extrapolated: a value beyond
/// the rows is refused with the range.</para>
/// <para><b>Error.</b> About ±1 HRC: a conversion is an estimate, and every result says so and names its table.</para>
/// <para><b>Source.</b> ASTM E140, tables for non-austenitic steels, from memory.</para>
/// </remarks>
public static class HardnessConversion
{
    private static readonly ConversionFile s_file = ShippedTable.Read<ConversionFile>("Hardness.conversion.json");
    private static readonly double[] s_hrcOfTable1 = Table1Column(HardnessScale.HRC);
    private static readonly double[] s_hvOfTable1 = Table1Column(HardnessScale.HV);

    /// <summary>The tables' source.</summary>
    public static Source Source { get; } = new(s_file.Source, s_file.Status);

    /// <summary>Typical error of a conversion expressed in HRC (half width).</summary>
    public const double HalfWidthHrc = 1;

    /// <summary>Converts one value.</summary>
    /// <param name="value">Hardness on scale <paramref name="from"/>.</param>
    /// <param name="from">Scale it was measured on.</param>
    /// <param name="to">Scale wanted.</param>
    /// <exception cref="OutsideModelRangeException">The value lies beyond the table.</exception>
    /// <exception cref="ArgumentException">No table holds both scales, or the two scales are the same.</exception>
    public static ConvertedHardness Convert(double value, HardnessScale from, HardnessScale to)
    {
        if (from == to)
            throw new ArgumentException($"{from} to {to} is no conversion. Use the measured value as it is.", nameof(to));
        ConversionTable table = s_file.Tables.FirstOrDefault(t => t.Scales.Contains(from) && t.Scales.Contains(to))
            ?? throw new ArgumentException($"No table holds both {from} and {to}: the Rockwell B and C tables were made on different steels and are not chained.", nameof(to));

        int a = table.Scales.IndexOf(from), b = table.Scales.IndexOf(to);
        (double From, double To)[] rows = [.. table.Rows
            .Where(r => r[a] is not null && r[b] is not null).Select(r => (r[a]!.Value, r[b]!.Value)).OrderBy(r => r.Item1)];
        if (!(value >= rows[0].From && value <= rows[^1].From))
            throw new OutsideModelRangeException(table.Name, $"{from} hardness", value, rows[0].From, rows[^1].From, from.ToString());

        int upper = Math.Max(1, Array.FindIndex(rows, r => r.From >= value));
        (double x0, double y0) = rows[upper - 1];
        (double x1, double y1) = rows[upper];
        double converted = y0 + (value - x0) / (x1 - x0) * (y1 - y0);
        return new(converted, to, value, from, table.Name, Source,
        [
            string.Create(CultureInfo.InvariantCulture, $"Converted from {value:0.#} {from} by {table.Name}, straight line between rows; about ±{HalfWidthHrc:0} HRC. Not a measurement on the {to} scale."),
        ]);
    }

    /// <summary>Rockwell C of a Vickers hardness, NaN outside the table. Allocates nothing: for the draws of a Monte Carlo.</summary>
    public static double HrcOfVickers(double hv) => Interpolate(s_hvOfTable1, s_hrcOfTable1, hv);

    /// <summary>Vickers of a Rockwell C hardness, NaN outside the table. Allocates nothing.</summary>
    public static double VickersOfHrc(double hrc) => Interpolate(s_hrcOfTable1, s_hvOfTable1, hrc);

    internal static double Interpolate(double[] x, double[] y, double at)
    {
        if (!(at >= x[0] && at <= x[^1])) return double.NaN;
        int i = Array.BinarySearch(x, at);
        if (i >= 0) return y[i];
        i = ~i;
        return y[i - 1] + (at - x[i - 1]) / (x[i] - x[i - 1]) * (y[i] - y[i - 1]);
    }

    private static double[] Table1Column(HardnessScale scale)
    {
        int column = s_file.Tables[0].Scales.IndexOf(scale);
        return [.. s_file.Tables[0].Rows.Select(r => r[column]!.Value).Order()];
    }

    private sealed record ConversionFile(string Source, SourceStatus Status, string Note, List<ConversionTable> Tables);

    private sealed record ConversionTable(string Name, List<HardnessScale> Scales, List<List<double?>> Rows);
}

/// <summary>A hardness that was not measured on its scale but converted to it.</summary>
/// <param name="Value">Hardness on <paramref name="Scale"/>.</param>
/// <param name="Scale">Scale of the converted value.</param>
/// <param name="MeasuredValue">The value it was converted from.</param>
/// <param name="MeasuredScale">The scale it was measured on.</param>
/// <param name="Table">Table used.</param>
/// <param name="Source">The table's source.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record ConvertedHardness(
    double Value, HardnessScale Scale, double MeasuredValue, HardnessScale MeasuredScale, string Table, Source Source, IReadOnlyList<string> Notes)
{
    /// <summary>Value and origin as they must appear everywhere: <c>62.0 HRC (converted from 746 HV, ASTM E140 Table 1)</c>.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture,
        $"{Value:0.0} {Scale} (converted from {MeasuredValue:0.#} {MeasuredScale}, {Table})");
}
