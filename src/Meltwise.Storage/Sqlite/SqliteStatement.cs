using System.Text;
using Meltwise.Storage.Records;
using Meltwise.Storage.Writing;
using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace Meltwise.Storage.Sqlite;

/// <summary>A statement bound and stepped without a command object for each row: an intake runs it hundreds of thousands of times.</summary>
/// <remarks>Calls of the SQLite C interface (sqlite.org, "C-language Interface Specification"): prepare, bind, step, reset. Parameters are bound by their place.</remarks>
internal sealed class SqliteStatement : WriteStatement
{
    private readonly sqlite3 _database;
    private readonly sqlite3_stmt _statement;
    private readonly int[] _places;
    private byte[] _text = new byte[256];

    public SqliteStatement(SqliteConnection connection, string sql, Column first, IReadOnlyList<Column> others)
    {
        _database = connection.Handle!;
        Demand(raw.sqlite3_prepare_v2(_database, sql, out _statement));
        _places = [.. others.Prepend(first).Select(c => raw.sqlite3_bind_parameter_index(_statement, "@" + c.Name))];
    }

    public override int Run(int first, ReadOnlySpan<object?> cells)
    {
        if (_places[0] > 0) Demand(raw.sqlite3_bind_int(_statement, _places[0], first));
        for (int i = 1; i < _places.Length; i++) Bind(_places[i], cells[i - 1]);
        int code = raw.sqlite3_step(_statement);
        // The reset repeats the error of the step, and leaves the statement ready for the next row.
        int reset = raw.sqlite3_reset(_statement);
        Demand(code == raw.SQLITE_DONE ? raw.SQLITE_OK : reset);
        return raw.sqlite3_changes(_database);
    }

    public override void Dispose() => _statement.Dispose();

    private void Bind(int place, object? cell) => Demand(cell switch
    {
        null => raw.sqlite3_bind_null(_statement, place),
        int number => raw.sqlite3_bind_int(_statement, place, number),
        double real => raw.sqlite3_bind_double(_statement, place, real),
        string text => BindText(place, text),
        _ => throw new InvalidOperationException($"A cell of type {cell.GetType().Name} has no stored form."),
    });

    private int BindText(int place, string text)
    {
        int most = Encoding.UTF8.GetMaxByteCount(text.Length);
        if (most > _text.Length) _text = new byte[most];
        int length = Encoding.UTF8.GetBytes(text, _text);
        return raw.sqlite3_bind_text(_statement, place, _text.AsSpan(0, length));
    }

    private void Demand(int code)
    {
        if (code != raw.SQLITE_OK)
            throw new SqliteException(raw.sqlite3_errmsg(_database).utf8_to_string(), code & 0xFF, raw.sqlite3_extended_errcode(_database));
    }
}
