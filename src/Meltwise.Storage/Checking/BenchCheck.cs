using System.Data;
using System.Data.Common;
using Meltwise.Storage.Records;
using Meltwise.Storage.Retrieval;
using Meltwise.Storage.Writing;

namespace Meltwise.Storage.Checking;

/// <summary>What a check of the bench found.</summary>
/// <param name="Faults">One sentence a fault; empty when all is well.</param>
/// <param name="Entries">Entries of the trail that were gone through.</param>
/// <param name="Transactions">Transactions that were gone through.</param>
public sealed record BenchFindings(IReadOnlyList<string> Faults, int Entries, int Transactions)
{
    /// <summary>True when nothing was found.</summary>
    public bool IsSound => Faults.Count == 0;
}

/// <summary>Goes through the whole bench: the engine's own check, the succession of versions, the numbers of the trail, the digest of every transaction, and the originals of pictures and traces.</summary>
internal static class BenchCheck
{
    // More lines than this of one kind tell a reader nothing new.
    private const int MostFaults = 50;

    public static BenchFindings Run(Engine engine)
    {
        List<string> faults = [.. engine.CheckFile()];
        IReadOnlyList<TrailLine> trail = TrailLine.All(engine.Connection);
        faults.AddRange(Gaps(trail));
        Dictionary<int, List<(string Kind, string Digest)>> digests = [];
        int entries = 0;
        foreach (RecordTable table in Tables.All)
        {
            entries += DigestEntries(engine, table, trail, digests);
            if (table.IsVersioned) faults.AddRange(BrokenSuccession(engine, table));
        }
        faults.AddRange(WrongDigests(trail, digests));
        faults.AddRange(BrokenOriginals(engine));
        faults.AddRange(BrokenTraces(engine));
        int numbered = trail.Count == 0 ? 0 : trail[^1].LastEntry;
        if (entries != numbered) faults.Add($"The trail counts {numbered} entries, the tables hold {entries}.");
        return new([.. faults.Take(MostFaults)], entries, trail.Count);
    }

    private static IEnumerable<string> Gaps(IReadOnlyList<TrailLine> trail)
    {
        TrailLine before = TrailLine.None;
        foreach (TrailLine line in trail)
        {
            if (line.Number != before.Number + 1 || line.FirstEntry != before.LastEntry + 1 || line.LastEntry < line.FirstEntry)
                yield return $"The trail is broken between transaction {before.Number} and {line.Number}: expected transaction {before.Number + 1} with entry {before.LastEntry + 1}, found entry {line.FirstEntry}.";
            before = line;
        }
    }

    private static int DigestEntries(Engine engine, RecordTable table, IReadOnlyList<TrailLine> trail, Dictionary<int, List<(string Kind, string Digest)>> digests)
    {
        using DbCommand command = engine.Connection.Command($"SELECT v.entry, {table.ColumnList("v")} FROM {table.Table} v ORDER BY v.entry");
        using DbDataReader row = command.ExecuteReader();
        using EntryDigest digest = new();
        int at = 0;
        int entries = 0;
        while (row.Read())
        {
            int entry = row.GetInt32(0);
            while (at < trail.Count && trail[at].LastEntry < entry) CloseLine();
            digest.Append(entry, table.Digested(table.Cells(row, 1)));
            entries++;
        }
        if (at < trail.Count) CloseLine();
        return entries;

        void CloseLine()
        {
            if (digest.Count > 0)
            {
                if (!digests.TryGetValue(at, out List<(string, string)>? ofLine)) digests[at] = ofLine = [];
                ofLine.Add((table.Kind, digest.Close()));
            }
            at++;
        }
    }

    private static IEnumerable<string> WrongDigests(IReadOnlyList<TrailLine> trail, Dictionary<int, List<(string Kind, string Digest)>> digests)
    {
        string before = "";
        for (int i = 0; i < trail.Count; i++)
        {
            string found = TrailLine.DigestOf(before, trail[i], digests.GetValueOrDefault(i) ?? []);
            if (found != trail[i].Digest)
                yield return $"Transaction {trail[i].Number} ({trail[i].By}, {trail[i].AtUtc}) does not match its digest: a record or the trail was changed outside Meltwise.";
            before = trail[i].Digest;
        }
    }

    private static IEnumerable<string> BrokenOriginals(Engine engine)
    {
        foreach (Domain.Picture picture in CurrentRecords.Of(engine, PictureTables.Pictures, []))
        {
            string? now = engine.Originals.DigestNow(picture.Sha256);
            string which = $"Picture {picture.Name} ({picture.FileName}, heat {picture.Heat})";
            if (now is null) yield return $"{which}: its original is missing; expected {engine.Originals.Place(picture.Sha256)}.";
            else if (now != picture.Sha256) yield return $"{which}: its original was altered; found SHA-256 {now}, expected {picture.Sha256}.";
        }
    }

    private static IEnumerable<string> BrokenTraces(Engine engine)
    {
        foreach (Domain.FurnaceTrace trace in CurrentRecords.Of(engine, TraceTables.FurnaceTraces, []))
            if (!Casework.Recording.RecordTrace.IsAsItCame(trace))
                yield return $"Furnace trace {trace.Name} ({trace.FileName}, load {trace.Load}): the file it came in was altered; expected SHA-256 {trace.Sha256}.";
    }

    private static IEnumerable<string> BrokenSuccession(Engine engine, RecordTable table)
    {
        string same = string.Join(" AND ", table.Columns.Take(table.KeyCount).Select(c => c.MayBeEmpty ? $"COALESCE(s.{c.Name}, '') = COALESCE(v.{c.Name}, '')" : $"s.{c.Name} = v.{c.Name}"));
        string successor = $"SELECT 1 FROM {table.Table} s WHERE s.entry = v.replaced_by AND {same}";
        string takenBack = table == CouponTables.Readings ? $" AND NOT EXISTS (SELECT 1 FROM withdrawal s WHERE s.entry = v.replaced_by AND {same})" : "";
        using DbCommand command = engine.Connection.Command(
            $"SELECT v.entry, {table.ColumnList("v")} FROM {table.Table} v WHERE v.replaced_by IS NOT NULL AND NOT EXISTS ({successor}){takenBack} ORDER BY v.entry LIMIT @most");
        command.Add("most", DbType.Int32, MostFaults);
        using DbDataReader row = command.ExecuteReader();
        while (row.Read()) yield return $"{table.Kind} {table.KeyText(table.Cells(row, 1))}: entry {row.GetInt32(0)} is marked as replaced, but nothing took its place.";
    }
}
