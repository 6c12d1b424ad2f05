using System.Data;
using System.Data.Common;
using Meltwise.Casework.Recording;

namespace Meltwise.Storage.Retrieval;

/// <summary>One search over heats, enquiries, sources and coupons.</summary>
internal static class BenchSearch
{
    private static readonly (string Kind, string Sql)[] s_places =
    [
        ("heat", "SELECT v.name, COALESCE(v.grade, 'grade unknown') FROM heat_version v WHERE v.replaced_by IS NULL AND (LOWER(v.name) LIKE @text ESCAPE '!' OR LOWER(v.grade) LIKE @text ESCAPE '!')"),
        ("enquiry", "SELECT v.name, v.title FROM enquiry_version v WHERE v.replaced_by IS NULL AND (LOWER(v.name) LIKE @text ESCAPE '!' OR LOWER(v.title) LIKE @text ESCAPE '!')"),
        ("source", "SELECT v.name, v.public_label FROM source_version v WHERE v.replaced_by IS NULL AND (LOWER(v.name) LIKE @text ESCAPE '!' OR LOWER(v.public_label) LIKE @text ESCAPE '!')"),
        ("coupon", "SELECT v.heat || '/' || v.coupon, COALESCE('code ' || v.code, v.treatment, '') FROM coupon_version v WHERE v.replaced_by IS NULL AND (LOWER(v.heat || '/' || v.coupon) LIKE @text ESCAPE '!' OR LOWER(v.code) LIKE @text ESCAPE '!')"),
    ];

    public static IReadOnlyList<SearchHit> Find(Engine engine, string text, int most)
    {
        if (string.IsNullOrWhiteSpace(text)) return [];
        string pattern = text.Trim().ToLowerInvariant().Replace("!", "!!", StringComparison.Ordinal).Replace("%", "!%", StringComparison.Ordinal).Replace("_", "!_", StringComparison.Ordinal);
        List<SearchHit> hits = [];
        foreach ((string kind, string sql) in s_places)
        {
            using DbCommand command = engine.Connection.Command($"{sql} ORDER BY v.entry DESC LIMIT @most");
            command.Add("text", DbType.String, $"%{pattern}%");
            command.Add("most", DbType.Int32, most - hits.Count);
            using DbDataReader row = command.ExecuteReader();
            while (row.Read()) hits.Add(new(kind, row.GetString(0), row.GetString(1)));
        }
        return hits;
    }
}
