using System.Data;
using System.Data.Common;
using System.Globalization;

namespace Meltwise.Storage.Records;

/// <summary>How a column is stored. Three forms that both engines give back to the last digit.</summary>
internal enum Stored
{
    Text,
    Integer,
    Real,
}

/// <summary>A column of a table of versions.</summary>
/// <param name="Name">Name in the database.</param>
/// <param name="Form">How it is stored.</param>
/// <param name="RefersTo">Table of names that must hold its value, or null.</param>
/// <param name="MayBeEmpty">Part of a key that may be unknown; unknown equals unknown there.</param>
/// <param name="CameLater">Added by a later migration, at the end of its table.</param>
internal sealed record Column(string Name, Stored Form = Stored.Text, string? RefersTo = null, bool MayBeEmpty = false, bool CameLater = false)
{
    /// <summary>Condition that the column equals its parameter.</summary>
    public string IsItsParameter => MayBeEmpty ? $"COALESCE({Name}, '') = COALESCE(@{Name}, '')" : $"{Name} = @{Name}";

    /// <summary>The same for ADO.NET.</summary>
    public DbType Type => Form switch { Stored.Integer => DbType.Int32, Stored.Real => DbType.Double, _ => DbType.String };

    /// <summary>The cell as string, boxed int, boxed double or null, whatever the engine calls it.</summary>
    public object? Cell(DbDataReader row, int at) => row.IsDBNull(at) ? null : Form switch
    {
        Stored.Integer => row.GetInt32(at),
        Stored.Real => row.GetDouble(at),
        _ => row.GetString(at),
    };

    private const string InKelvin = "_k";
    private const double IcePointK = 273.15;

    /// <summary>What is no news in the trail: what another column says as it was written (the number and its bound that are also kept as typed), and whole files.</summary>
    public bool IsSaidElsewhere => Name is "typed_value" or "censoring" or "original" or "points";

    /// <summary>As the trail shows it: words, and temperatures in °C.</summary>
    public string Say(object value) => value is double kelvin && Name.EndsWith(InKelvin, StringComparison.Ordinal)
        ? string.Create(CultureInfo.InvariantCulture, $"{Spaced(Name[..^InKelvin.Length])}: {kelvin - IcePointK:0.#} °C")
        : $"{Spaced(Name)}: {NestedWords.Of(value)}";

    private static string Spaced(string name) => name.Replace('_', ' ');
}

/// <summary>When a change of something already recorded must name its reason.</summary>
internal enum ReasonRule
{
    /// <summary>Whenever anything differs.</summary>
    Always,

    /// <summary>When a value is altered or emptied, not when an empty field is filled.</summary>
    WhenAltered,

    /// <summary>Never: the record carries its own stamps, or can be made again.</summary>
    Never,
}

/// <summary>A table of versions, without the type of its record: what the trail and the check need.</summary>
internal abstract class RecordTable(string kind, string table, string? names, int keyCount, ReasonRule reason, IReadOnlyList<Column> columns)
{
    /// <summary>Kind of record in the trail.</summary>
    public string Kind { get; } = kind;

    /// <summary>Name of the table of versions.</summary>
    public string Table { get; } = table;

    /// <summary>Table that holds the key for others to refer to, or null when nothing refers to it.</summary>
    public string? Names { get; } = names;

    /// <summary>So many of the first columns make the key.</summary>
    public int KeyCount { get; } = keyCount;

    /// <summary>When a change needs a reason.</summary>
    public ReasonRule Reason { get; } = reason;

    /// <summary>All columns but the entry and its successor.</summary>
    public IReadOnlyList<Column> Columns { get; } = columns;

    /// <summary>True when versions can be replaced.</summary>
    public bool IsVersioned => Table != "withdrawal";

    /// <summary>Where the coupon stands among the columns, its heat before it; -1 when the record names none.</summary>
    public int CouponAt { get; } = columns.ToList().FindIndex(c => c.Name == "coupon");

    /// <summary>The columns for a SELECT, of the table by that short name.</summary>
    public string ColumnList(string of) => string.Join(", ", Columns.Select(c => $"{of}.{c.Name}"));

    /// <summary>The cells of a row from the column at that place on.</summary>
    public object?[] Cells(DbDataReader row, int from)
    {
        object?[] cells = new object?[Columns.Count];
        for (int i = 0; i < cells.Length; i++) cells[i] = Columns[i].Cell(row, from + i);
        return cells;
    }

    /// <summary>The cells that a digest runs over: columns that came later are left off from the last filled one on, so that entries from before keep their digest.</summary>
    public ReadOnlySpan<object?> Digested(object?[] cells)
    {
        int length = cells.Length;
        while (length > 0 && cells[length - 1] is null && Columns[length - 1].CameLater) length--;
        return cells.AsSpan(0, length);
    }

    /// <summary>The key as text, parts joined by a slash; empty last parts are left off.</summary>
    public string KeyText(object?[] cells)
    {
        string text = string.Join('/', cells.Take(KeyCount).Select(c => Convert.ToString(c, CultureInfo.InvariantCulture)));
        return text.TrimEnd('/');
    }

    /// <summary>The contents as one line for the trail, without the key.</summary>
    public string Say(object?[] cells) =>
        string.Join("; ", Columns.Zip(cells).Skip(KeyCount).Where(p => p.Second is not null && !p.First.IsSaidElsewhere).Select(p => p.First.Say(p.Second!)));
}

/// <summary>A table of versions of one kind of record.</summary>
/// <param name="write">The record's cells in the order of the columns.</param>
/// <param name="read">The record of those cells.</param>
internal sealed class RecordTable<T>(
    string kind, string table, string? names, int keyCount, ReasonRule reason, IReadOnlyList<Column> columns, Func<T, object?[]> write, Func<object?[], T> read)
    : RecordTable(kind, table, names, keyCount, reason, columns)
{
    /// <summary>The record's cells in the order of the columns.</summary>
    public object?[] Write(T record) => write(record);

    /// <summary>The record of those cells.</summary>
    public T Read(object?[] cells) => read(cells);
}
