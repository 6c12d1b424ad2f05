using System.Data.Common;
using Meltwise.Casework.Recording;
using Meltwise.Storage.Originals;
using Meltwise.Storage.Records;
using Meltwise.Storage.Writing;

namespace Meltwise.Storage;

/// <summary>What the two database engines do differently. One instance for one open bench.</summary>
internal abstract class Engine : IDisposable
{
    /// <summary>The open connection.</summary>
    public abstract DbConnection Connection { get; }

    /// <summary>Where the bench is, without secrets.</summary>
    public abstract string Place { get; }

    /// <summary>The files of pictures.</summary>
    public abstract PictureOriginals Originals { get; }

    /// <summary>Number of the last migration that was applied; 0 for an empty database.</summary>
    public abstract int ReadSchemaVersion();

    /// <summary>Notes the number of the last migration, inside the transaction that applied it.</summary>
    public abstract void WriteSchemaVersion(DbTransaction transaction, int number);

    /// <summary>Makes a copy before a migration, where the engine can; says where it is.</summary>
    public abstract string? CopyBeforeMigration(int from);

    /// <summary>Begins a transaction that no other writer can enter.</summary>
    public abstract DbTransaction BeginWriting();

    /// <summary>Prepares a statement that changes rows. The first parameter is a number, the others are columns; a name may be missing from the statement.</summary>
    public abstract WriteStatement Prepare(DbTransaction transaction, string sql, Column first, IReadOnlyList<Column> others);

    /// <summary>Statements that make the versions of a table unchangeable.</summary>
    public abstract IEnumerable<string> Guards(RecordTable table);

    /// <summary>The column whose value names nothing on the bench, when that is what the engine complains of; a column without <see cref="Column.RefersTo"/> is that of the coupon.</summary>
    public abstract Column? MissingName(DbException exception, RecordTable table, object?[] cells, DbTransaction transaction);

    /// <summary>The engine's complaint in words for a reader.</summary>
    public abstract BenchException Explain(DbException exception);

    /// <summary>The engine's own check of its pages and references; one line a fault.</summary>
    public abstract IReadOnlyList<string> CheckFile();

    /// <summary>A consistent copy while the bench is in use.</summary>
    public abstract void BackUp(string target);

    /// <inheritdoc/>
    public void Dispose() => Connection.Dispose();
}
