using System.Data.Common;
using Meltwise.Storage.Records;

namespace Meltwise.Storage.Writing;

/// <summary>A prepared statement that changes rows; its parameters bear the names of its columns.</summary>
internal abstract class WriteStatement : IDisposable
{
    /// <summary>Runs it.</summary>
    /// <param name="first">The first parameter, a number; the others follow from <paramref name="cells"/>.</param>
    /// <param name="cells">Values in the order of the other parameters; further ones are not looked at.</param>
    /// <returns>Rows changed.</returns>
    /// <exception cref="DbException">The engine refused.</exception>
    public abstract int Run(int first, ReadOnlySpan<object?> cells);

    /// <inheritdoc/>
    public abstract void Dispose();
}

/// <summary>The same through ADO.NET.</summary>
internal sealed class CommandStatement : WriteStatement
{
    private readonly DbCommand _command;

    public CommandStatement(DbConnection connection, DbTransaction transaction, string sql, Column first, IReadOnlyList<Column> others)
    {
        _command = connection.Command(sql, transaction);
        foreach (Column column in others.Prepend(first)) _command.Add(column.Name, column.Type);
        _command.Prepare();
    }

    public override int Run(int first, ReadOnlySpan<object?> cells)
    {
        _command.Parameters[0].Value = first;
        for (int i = 1; i < _command.Parameters.Count; i++) _command.Parameters[i].Value = cells[i - 1] ?? DBNull.Value;
        return _command.ExecuteNonQuery();
    }

    public override void Dispose() => _command.Dispose();
}
