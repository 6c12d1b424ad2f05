using System.Data.Common;
using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Storage.Originals;
using Meltwise.Storage.Records;
using Meltwise.Storage.Writing;
using Microsoft.Data.Sqlite;

namespace Meltwise.Storage.Sqlite;

/// <summary>A bench in one SQLite file: write-ahead log, foreign keys, full synchronisation, one writer at a time.</summary>
internal sealed class SqliteEngine(SqliteConnection connection, string path) : Engine
{
    /// <summary>Mark in the file's header that it is a bench ("MLTW").</summary>
    public const int ApplicationId = 0x4D4C5457;

    private readonly SqliteConnection _connection = connection;

    public override DbConnection Connection => _connection;

    public override string Place => path;

    public override PictureOriginals Originals { get; } = new FolderOriginals(FolderOriginals.FolderOf(path));

    /// <summary>Opens the connection and sets what the bench relies on.</summary>
    public static SqliteEngine Open(string path, SqliteOpenMode mode, BenchFileLimits limits)
    {
        SqliteConnectionStringBuilder text = new()
        {
            DataSource = path,
            Mode = mode,
            Pooling = false,
            ForeignKeys = true,
            DefaultTimeout = Math.Max(1, (int)Math.Ceiling(limits.BusyTimeout.TotalSeconds)),
        };
        SqliteConnection connection = new(text.ToString());
        SqliteEngine engine = new(connection, path);
        try
        {
            connection.Open();
            connection.Run("PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA cache_size = -32768; PRAGMA temp_store = MEMORY;");
            if (limits.LargestFileBytes is { } bytes)
                connection.Run(string.Create(CultureInfo.InvariantCulture, $"PRAGMA max_page_count = {bytes / connection.Number("PRAGMA page_size")}"));
            return engine;
        }
        catch (SqliteException e)
        {
            connection.Dispose();
            throw engine.Explain(e);
        }
    }

    public override int ReadSchemaVersion() => (int)_connection.Number("PRAGMA user_version");

    public override void WriteSchemaVersion(DbTransaction transaction, int number) =>
        _connection.Run(string.Create(CultureInfo.InvariantCulture, $"PRAGMA application_id = {ApplicationId}; PRAGMA user_version = {number}"), transaction);

    public override string CopyBeforeMigration(int from)
    {
        string copy = Path.Combine(
            Path.GetDirectoryName(path) ?? "", string.Create(CultureInfo.InvariantCulture, $"{Path.GetFileNameWithoutExtension(path)}.schema-{from}{Path.GetExtension(path)}"));
        if (!File.Exists(copy)) BackUp(copy);
        return copy;
    }

    public override DbTransaction BeginWriting() => _connection.BeginTransaction(deferred: false);

    public override WriteStatement Prepare(DbTransaction transaction, string sql, Column first, IReadOnlyList<Column> others) => new SqliteStatement(_connection, sql, first, others);

    public override IEnumerable<string> Guards(RecordTable table)
    {
        string message = $"versions of {table.Kind} are kept";
        string update = table.IsVersioned
            ? $"BEFORE UPDATE ON {table.Table} WHEN OLD.replaced_by IS NOT NULL OR NEW.entry <> OLD.entry OR {string.Join(" OR ", table.Columns.Select(c => $"NEW.{c.Name} IS NOT OLD.{c.Name}"))}"
            : $"BEFORE UPDATE ON {table.Table}";
        yield return $"DROP TRIGGER IF EXISTS {table.Table}_no_delete";
        yield return $"CREATE TRIGGER {table.Table}_no_delete BEFORE DELETE ON {table.Table} BEGIN SELECT RAISE(ABORT, '{message}'); END";
        yield return $"DROP TRIGGER IF EXISTS {table.Table}_no_change";
        yield return $"CREATE TRIGGER {table.Table}_no_change {update} BEGIN SELECT RAISE(ABORT, '{message}'); END";
    }

    public override Column? MissingName(DbException exception, RecordTable table, object?[] cells, DbTransaction transaction)
    {
        if (exception is not SqliteException { SqliteExtendedErrorCode: 787 }) return null;
        foreach ((Column column, object? cell) in table.Columns.Zip(cells))
            if (column.RefersTo is { } names && cell is string name && !Holds($"SELECT 1 FROM {names} WHERE name = @a", transaction, name)) return column;
        int at = table.CouponAt;
        return at > 0 && cells[at - 1] is string heat && cells[at] is string coupon && !Holds("SELECT 1 FROM coupon WHERE heat = @a AND coupon = @b", transaction, heat, coupon) ? table.Columns[at] : null;
    }

    public override BenchException Explain(DbException exception) => SqliteComplaints.Explain((SqliteException)exception, path);

    public override IReadOnlyList<string> CheckFile()
    {
        List<string> faults = [];
        using (DbCommand pages = _connection.Command("PRAGMA integrity_check(20)"))
        using (DbDataReader row = pages.ExecuteReader())
            while (row.Read())
                if (row.GetString(0) != "ok") faults.Add($"The file is damaged: {row.GetString(0)}.");
        using DbCommand references = _connection.Command("PRAGMA foreign_key_check");
        using DbDataReader orphan = references.ExecuteReader();
        while (orphan.Read()) faults.Add($"Row {orphan.GetInt64(1)} of {orphan.GetString(0)} names a {orphan.GetString(2)} that is not on the bench.");
        return faults;
    }

    public override void BackUp(string target)
    {
        try
        {
            using SqliteConnection copy = new(new SqliteConnectionStringBuilder { DataSource = target, Pooling = false }.ToString());
            _connection.BackupDatabase(copy);
        }
        catch (SqliteException e)
        {
            throw SqliteComplaints.Explain(e, target);
        }
    }

    private bool Holds(string sql, DbTransaction transaction, params string[] values)
    {
        using DbCommand command = _connection.Command(sql, transaction);
        for (int i = 0; i < values.Length; i++) command.Add(i == 0 ? "a" : "b", System.Data.DbType.String, values[i]);
        return command.ExecuteScalar() is not null;
    }
}
