using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Asking;

/// <summary>The history that a rule is fixed with, as a digest: every coupon of other heats read for the property, independent of the order of rows.</summary>
public static class HistoryDigest
{
    /// <summary>SHA-256, hexadecimal; null when there is no history.</summary>
    public static string? Of(IBench bench, Enquiry enquiry)
    {
        if (enquiry.Rule is not { } rule) return null;
        HashSet<string> own = [.. enquiry.ReferenceHeats, .. enquiry.CandidateHeats];
        return Of(bench.CouponTable(new(Property: rule.Property)).Rows.Where(r => !own.Contains(r.Heat)), rule.Property);
    }

    /// <summary>The same for rows already read, without those of the enquiry's own heats.</summary>
    public static string? Of(IEnumerable<CouponRow> history, string property)
    {
        string[] lines = [.. history.Select(r => Line(r, property)).Order(StringComparer.Ordinal)];
        return lines.Length == 0 ? null : Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\n', lines))));
    }

    private static string Line(CouponRow row, string property)
    {
        IEnumerable<CensoredValue> readings = property == PropertyTable.Hardness.Name ? [] : row.Readings[property];
        return string.Join('\t', [
            row.Heat, row.Coupon, row.Source, row.Grade, row.Route, row.Orientation, row.Geometry, row.TestTemperatureK?.ToString("R", CultureInfo.InvariantCulture), row.Treatment, row.State.ToString(),
            string.Join(';', row.Hardness.Select(h => h.ToString())), string.Join(';', readings.Select(r => r.ToString())),
        ]);
    }
}
