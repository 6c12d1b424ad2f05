using System.Data;
using System.Data.Common;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Meltwise.Storage.Writing;

/// <summary>The line of one transaction in the trail: who, when, why, which entries, and a digest over the line before, this line and its entries.</summary>
internal sealed record TrailLine(int Number, int FirstEntry, int LastEntry, string AtUtc, string By, string? Why, string Digest)
{
    /// <summary>Before the first transaction.</summary>
    public static TrailLine None { get; } = new(0, 0, 0, "0001-01-01T00:00:00Z", "", null, "");

    /// <summary>Digest of a line, from the digest of the line before and the digests of its entries by kind, in the order of the tables.</summary>
    public static string DigestOf(string before, TrailLine line, IEnumerable<(string Kind, string Digest)> entries)
    {
        StringBuilder text = new();
        text.Append(before).Append('\n')
            .Append(CultureInfo.InvariantCulture, $"{line.Number} {line.FirstEntry} {line.LastEntry} {line.AtUtc}").Append('\n')
            .Append(line.By).Append('\n').Append(line.Why).Append('\n');
        foreach ((string kind, string digest) in entries) text.Append(kind).Append(' ').Append(digest).Append('\n');
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }

    /// <summary>The newest line.</summary>
    public static TrailLine Last(DbConnection connection, DbTransaction? transaction)
    {
        using DbCommand command = connection.Command($"{Select} ORDER BY number DESC LIMIT 1", transaction);
        using DbDataReader row = command.ExecuteReader();
        return row.Read() ? Read(row) : None;
    }

    /// <summary>The line that an entry belongs to.</summary>
    public static TrailLine Of(DbConnection connection, int entry)
    {
        using DbCommand command = connection.Command($"{Select} WHERE first_entry <= @entry ORDER BY first_entry DESC LIMIT 1");
        command.Add("entry", DbType.Int32, entry);
        using DbDataReader row = command.ExecuteReader();
        return row.Read() ? Read(row) : None;
    }

    /// <summary>All lines, oldest first.</summary>
    public static IReadOnlyList<TrailLine> All(DbConnection connection)
    {
        using DbCommand command = connection.Command($"{Select} ORDER BY number");
        using DbDataReader row = command.ExecuteReader();
        List<TrailLine> lines = [];
        while (row.Read()) lines.Add(Read(row));
        return lines;
    }

    /// <summary>Adds the line to the trail.</summary>
    public void Insert(DbConnection connection, DbTransaction transaction)
    {
        using DbCommand command = connection.Command(
            "INSERT INTO trail (number, first_entry, last_entry, at_utc, made_by, why, digest) VALUES (@number, @first, @last, @at, @by, @why, @digest)", transaction);
        command.Add("number", DbType.Int32, Number);
        command.Add("first", DbType.Int32, FirstEntry);
        command.Add("last", DbType.Int32, LastEntry);
        command.Add("at", DbType.String, AtUtc);
        command.Add("by", DbType.String, By);
        command.Add("why", DbType.String, Why);
        command.Add("digest", DbType.String, Digest);
        command.ExecuteNonQuery();
    }

    private const string Select = "SELECT number, first_entry, last_entry, at_utc, made_by, why, digest FROM trail";

    private static TrailLine Read(DbDataReader row) =>
        new(row.GetInt32(0), row.GetInt32(1), row.GetInt32(2), row.GetString(3), row.GetString(4), row.TextOrNull(5), row.GetString(6));
}
