using System.Data;
using System.Data.Common;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Storage.Records;
using Meltwise.Storage.Writing;

namespace Meltwise.Storage.Retrieval;

/// <summary>The trail as lines for a reader: the versions themselves are the history, this puts them side by side with their stamps.</summary>
internal static class TrailReader
{
    /// <summary>Entries of a kind and key, or of all, newest first. A key of a heat or a coupon finds what hangs on it too.</summary>
    public static IReadOnlyList<TrailEntry> Entries(Engine engine, string? kind, string? key, int most)
    {
        List<(int Entry, string Kind, string Key, string? Was, string? Became)> found = [];
        foreach (RecordTable table in Tables.All.Where(t => kind is null || t.Kind == kind || (kind == "reading" && !t.IsVersioned)))
            found.AddRange(Versions(engine, table, key, most));
        (int Entry, string Kind, string Key, string? Was, string? Became)[] newest = [.. found.OrderByDescending(f => f.Entry).Take(most)];
        List<TrailEntry> entries = new(newest.Length);
        TrailLine line = TrailLine.None;
        foreach ((int entry, string ofKind, string ofKey, string? was, string? became) in newest)
        {
            if (entry < line.FirstEntry || entry > line.LastEntry) line = TrailLine.Of(engine.Connection, entry);
            entries.Add(new(entry, StoredForms.ToInstant(line.AtUtc), line.By, ofKind, ofKey, was, became, line.Why));
        }
        return entries;
    }

    /// <summary>The newest current readings with their stamps, and what each said before its last correction.</summary>
    public static IReadOnlyList<RecordedReading> LatestReadings(Engine engine, int most)
    {
        RecordTable<Reading> table = CouponTables.Readings;
        using DbCommand command = engine.Connection.Command(
            $"SELECT {table.ColumnList("v")}, (SELECT l.at_utc FROM trail l WHERE l.first_entry <= v.entry ORDER BY l.first_entry DESC LIMIT 1), {table.ColumnList("p")} "
            + $"FROM reading_version v LEFT JOIN reading_version p ON p.replaced_by = v.entry WHERE v.replaced_by IS NULL ORDER BY v.entry DESC LIMIT @most");
        command.Add("most", DbType.Int32, most);
        using DbDataReader row = command.ExecuteReader();
        List<RecordedReading> readings = [];
        int width = table.Columns.Count;
        while (row.Read())
        {
            CensoredValue? before = row.IsDBNull(width + 1) ? null : table.Read(table.Cells(row, width + 1)).Typed;
            readings.Add(new(table.Read(table.Cells(row, 0)), StoredForms.ToInstant(row.GetString(width)), before));
        }
        return readings;
    }

    private static IEnumerable<(int Entry, string Kind, string Key, string? Was, string? Became)> Versions(Engine engine, RecordTable table, string? key, int most)
    {
        bool taken = !table.IsVersioned;
        RecordTable before = taken ? CouponTables.Readings : table;
        (string condition, IReadOnlyList<string> values) = Condition(table, key);
        using DbCommand command = engine.Connection.Command(
            $"SELECT v.entry, {table.ColumnList("v")}, p.entry, {before.ColumnList("p")} FROM {table.Table} v LEFT JOIN {before.Table} p ON p.replaced_by = v.entry "
            + $"{condition} ORDER BY v.entry DESC LIMIT @most");
        for (int i = 0; i < values.Count; i++) command.Add($"k{i}", DbType.String, values[i]);
        command.Add("most", DbType.Int32, most);
        using DbDataReader row = command.ExecuteReader();
        int width = table.Columns.Count;
        while (row.Read())
        {
            object?[] cells = table.Cells(row, 1);
            string text = table.KeyText(cells);
            if (key is not null && text != key && !text.StartsWith(key + "/", StringComparison.Ordinal)) continue;
            string? was = row.IsDBNull(width + 1) ? null : before.Say(before.Cells(row, width + 2));
            yield return (row.GetInt32(0), taken ? "reading" : table.Kind, text, was, taken ? null : table.Say(cells));
        }
    }

    // Names may hold slashes themselves, so every slash of the key is tried as the one between its first two parts.
    private static (string Condition, IReadOnlyList<string> Values) Condition(RecordTable table, string? key)
    {
        if (key is null) return ("", []);
        string first = table.Columns[0].Name;
        List<string> heads = [key, .. key.Select((c, i) => (c, i)).Where(p => p.c == '/').Select(p => key[..p.i])];
        return ($"WHERE v.{first} IN ({string.Join(", ", heads.Select((_, i) => $"@k{i}"))})", heads);
    }
}
