using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Asking;

/// <summary>The history that a rule is fixed with, as a digest: every coupon of other heats read for its properties, independent of the order of rows.</summary>
public static class HistoryDigest
{
    /// <summary>SHA-256, hexadecimal; null when there is no history.</summary>
    public static string? Of(IBench bench, Enquiry enquiry)
    {
        if (enquiry.Rule is not { } rule) return null;
        HashSet<string> own = [.. enquiry.ReferenceHeats, .. enquiry.CandidateHeats];
        return Of(rule.OtherProperties().Select(o => o.Property.Property).Prepend(rule.Property)
            .Select(p => (p, bench.CouponTable(new(Property: p)).Rows.Where(r => !own.Contains(r.Heat)))));
    }

    /// <summary>The same for rows already read, without those of the enquiry's own heats: those of the rule's first property, then those of its others.</summary>
    public static string? Of(IEnumerable<(string Property, IEnumerable<CouponRow> Rows)> histories)
    {
        // The lines of the first property are bare, as they were before a rule could hold others.
        string[] lines = [.. histories.SelectMany((h, i) => h.Rows.Select(r => (i == 0 ? "" : h.Property + '\t') + Line(r, h.Property))).Order(StringComparer.Ordinal)];
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
