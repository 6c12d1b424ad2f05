using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Meltwise.Domain;

namespace Meltwise.Casework.Judging;

/// <summary>SHA-256 of rows in canonical form: one line a coupon, every field a comparison can use, lines in ordinal order. The order of rows and of columns does not matter.</summary>
internal static class DataDigest
{
    private const char Field = '\u001f';

    public static string Of(IEnumerable<CouponRow> rows)
    {
        List<string> lines = [.. rows.Select(Line)];
        lines.Sort(StringComparer.Ordinal);
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (string line in lines) hash.AppendData(Encoding.UTF8.GetBytes(line));
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    private static string Line(CouponRow row)
    {
        StringBuilder line = new();
        foreach (string? text in new[] { row.Heat, row.Coupon, row.Source, row.Grade, row.Route, row.Orientation, row.Geometry, row.Treatment, row.TemperFamily, row.Load, row.State.ToString(), row.Cause })
            line.Append(text).Append(Field);
        line.Append(CultureInfo.InvariantCulture, $"{row.TestTemperatureK:R}").Append(Field);
        line.Append(row.ExcludedBeforeKeyOpened).Append(Field);
        Append(line, "hardness", row.Hardness);
        foreach (KeyValuePair<string, IReadOnlyList<CensoredValue>> readings in row.Readings.OrderBy(r => r.Key, StringComparer.Ordinal)) Append(line, readings.Key, readings.Value);
        return line.Append('\n').ToString();
    }

    private static void Append(StringBuilder line, string property, IReadOnlyList<CensoredValue> readings)
    {
        line.Append(property);
        foreach (CensoredValue reading in readings) line.Append(CultureInfo.InvariantCulture, $"{Field}{reading.Censoring}{reading.Value:R}{reading.Unit}");
        line.Append(Field);
    }
}
