using System.Data;
using System.Data.Common;
using Meltwise.Casework.Recording;
using Meltwise.Storage.Records;

namespace Meltwise.Storage.Writing;

/// <summary>Writes versions into one table during one transaction. A new record is one statement; only a record whose key is taken is looked at closer.</summary>
internal sealed class TableWriter : IDisposable
{
    private readonly RecordTable _table;
    private readonly Engine _engine;
    private readonly DbTransaction _transaction;
    private static readonly Column s_entry = new("entry", Stored.Integer);
    private static readonly Column s_successor = new("successor", Stored.Integer);

    private readonly WriteStatement? _putName;
    private readonly WriteStatement _insert;
    private DbCommand? _current;
    private WriteStatement? _replace;

    public TableWriter(RecordTable table, Engine engine, DbTransaction transaction)
    {
        (_table, _engine, _transaction) = (table, engine, transaction);
        IReadOnlyList<Column> keys = [.. table.Columns.Take(table.KeyCount)];
        if (table.Names is { } names)
            _putName = engine.Prepare(transaction, $"INSERT INTO {names} ({List(keys, "")}) VALUES ({List(keys, "@")}) ON CONFLICT DO NOTHING", s_entry, keys);
        _insert = engine.Prepare(
            transaction, $"INSERT INTO {table.Table} (entry, {List(table.Columns, "")}) VALUES (@entry, {List(table.Columns, "@")}) ON CONFLICT DO NOTHING", s_entry, table.Columns);
    }

    /// <summary>Digest of the entries written so far.</summary>
    public EntryDigest Digest { get; } = new();

    /// <summary>Adds a record, or a new version of it, under that entry number; false when the bench already holds it so.</summary>
    /// <exception cref="BenchException">It alters something recorded and no reason is given, or it names something that is not on the bench.</exception>
    public bool Put(int entry, object?[] cells, string? why)
    {
        try
        {
            _putName?.Run(entry, cells);
            if (_insert.Run(entry, cells) == 0)
            {
                (int current, object?[] was) = Current(cells) ?? throw new BenchException($"{_table.Kind} {_table.KeyText(cells)} cannot be recorded twice. Nothing was stored.");
                if (was.AsSpan().SequenceEqual(cells)) return false;
                DemandReason(was, cells, why);
                Replace(current, entry);
                _insert.Run(entry, cells);
            }
            Digest.Append(entry, _table.Digested(cells));
            return true;
        }
        catch (DbException e)
        {
            throw Missing(e, cells) ?? _engine.Explain(e);
        }
    }

    /// <summary>Marks the current version of that key as taken back by an entry.</summary>
    /// <exception cref="BenchException">There is no current version.</exception>
    public void TakeBack(object?[] key, int entry)
    {
        (int current, _) = Current(key)
            ?? throw new BenchException($"There is no {_table.Kind} {_table.KeyText(key)} to take back. Nothing was stored.");
        Replace(current, entry);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Digest.Dispose();
        _putName?.Dispose();
        _insert.Dispose();
        _current?.Dispose();
        _replace?.Dispose();
    }

    private (int Entry, object?[] Cells)? Current(object?[] cells)
    {
        IReadOnlyList<Column> keys = [.. _table.Columns.Take(_table.KeyCount)];
        _current ??= Query($"SELECT v.entry, {_table.ColumnList("v")} FROM {_table.Table} v WHERE {string.Join(" AND ", keys.Select(k => k.IsItsParameter))} AND replaced_by IS NULL", keys);
        for (int i = 0; i < keys.Count; i++) _current.Parameters[i].Value = cells[i] ?? DBNull.Value;
        using DbDataReader row = _current.ExecuteReader();
        return row.Read() ? (row.GetInt32(0), _table.Cells(row, 1)) : null;
    }

    private void Replace(int current, int entry)
    {
        _replace ??= _engine.Prepare(_transaction, $"UPDATE {_table.Table} SET replaced_by = @successor WHERE entry = @entry", s_entry, [s_successor]);
        _replace.Run(current, [entry]);
    }

    private void DemandReason(object?[] was, object?[] becomes, string? why)
    {
        if (!string.IsNullOrWhiteSpace(why) || _table.Reason == ReasonRule.Never) return;
        bool altered = _table.Reason == ReasonRule.Always || was.Zip(becomes).Any(p => p.First is not null && !p.First.Equals(p.Second));
        if (altered)
            throw new BenchException($"{_table.Kind} {_table.KeyText(was)} is already recorded ({_table.Say(was)}); to change it to ({_table.Say(becomes)}) a reason must be given. Nothing was stored.");
    }

    private BenchException? Missing(DbException exception, object?[] cells)
    {
        if (_engine.MissingName(exception, _table, cells, _transaction) is not { } column) return null;
        (string what, string name) = column.RefersTo is { } kind
            ? (kind, (string)cells[_table.Columns.ToList().IndexOf(column)]!)
            : ("coupon", $"{cells[_table.CouponAt - 1]}/{cells[_table.CouponAt]}");
        return new BenchException($"{_table.Kind} {_table.KeyText(cells)} names the {what} {name}, which is not on this bench. Record the {what} first. Nothing was stored.", exception);
    }

    private DbCommand Query(string sql, IReadOnlyList<Column> parameters)
    {
        DbCommand command = _engine.Connection.Command(sql, _transaction);
        foreach (Column column in parameters) command.Add(column.Name, column.Type);
        command.Prepare();
        return command;
    }

    private static string List(IReadOnlyList<Column> columns, string before) => string.Join(", ", columns.Select(c => before + c.Name));
}
