using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>What a column serves for.</summary>
public enum ColumnRole
{
    /// <summary>Nothing: it is shown in the preview and not stored.</summary>
    NotRead,

    /// <summary>A key column of coupons: heat, coupon, treatment.</summary>
    Key,

    /// <summary>Readings of a property.</summary>
    Property,

    /// <summary>A column of a chemistry table.</summary>
    Chemistry,

    /// <summary>A column of a table of hot histories.</summary>
    HotHistory,
}

/// <summary>What a column of a file was taken for.</summary>
/// <param name="Sheet">Sheet of a workbook, or null.</param>
/// <param name="Index">Place in the sheet, from 0.</param>
/// <param name="Heading">The heading as it stands.</param>
/// <param name="Role">What it serves for.</param>
/// <param name="Name">Name of the key column or property; empty when not read.</param>
/// <param name="Unit">Unit by the property table's name, or °C, °F, K; null where there is none.</param>
/// <param name="ByUser">True when the user said so.</param>
public sealed record ColumnTaken(string? Sheet, int Index, string Heading, ColumnRole Role, string Name, string? Unit, bool ByUser)
{
    /// <summary>The property, when it is one of the shipped table.</summary>
    public Property? Property { get; } = Role == ColumnRole.Property ? PropertyTable.Find(Name) : null;

    /// <summary>As a heading of our own tables: <c>impact energy [J]</c>.</summary>
    public string Meaning => Role == ColumnRole.NotRead ? "not read" : Unit is null ? Name : $"{Name} [{Unit}]";
}
