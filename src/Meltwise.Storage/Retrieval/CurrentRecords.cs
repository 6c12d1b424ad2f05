using System.Data;
using System.Data.Common;
using Meltwise.Storage.Records;

namespace Meltwise.Storage.Retrieval;

/// <summary>The current versions of one kind of record, in the order in which they were recorded.</summary>
internal static class CurrentRecords
{
    public static IReadOnlyList<T> Of<T>(Engine engine, RecordTable<T> table, IReadOnlyList<(string Column, string Value)> where)
    {
        string conditions = string.Concat(where.Select(w => $" AND v.{w.Column} = @{w.Column}"));
        using DbCommand command = engine.Connection.Command($"SELECT {table.ColumnList("v")} FROM {table.Table} v WHERE v.replaced_by IS NULL{conditions} ORDER BY v.entry");
        foreach ((string column, string value) in where) command.Add(column, DbType.String, value);
        using DbDataReader row = command.ExecuteReader();
        List<T> records = [];
        while (row.Read()) records.Add(table.Read(table.Cells(row, 0)));
        return records;
    }

    /// <summary>The one record of that key, or null.</summary>
    public static T? Only<T>(Engine engine, RecordTable<T> table, IReadOnlyList<(string Column, string Value)> key)
        where T : class
    {
        IReadOnlyList<T> found = Of(engine, table, key);
        return found.Count == 0 ? null : found[0];
    }
}
