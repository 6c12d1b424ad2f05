namespace Meltwise.Publishing.Labels;

/// <summary>A coupon to be labelled. While lots are under code only the code is printed.</summary>
/// <param name="Code">What is engraved: blind code, or name.</param>
/// <param name="Payload">What the square code holds, e.g. <c>meltwise:E-118/X3H</c>.</param>
/// <param name="Lines">Small lines beside it: geometry, orientation, load.</param>
public sealed record CouponLabel(string Code, string Payload, IReadOnlyList<string> Lines);

/// <summary>A place in a furnace load.</summary>
/// <param name="Load">Load.</param>
/// <param name="Position">Position in the load, from 1.</param>
/// <param name="Code">Code of the coupon.</param>
public sealed record LoadPlace(string Load, int Position, string Code);

/// <summary>A line of the order of testing, with room to write.</summary>
/// <param name="Order">Number in the order.</param>
/// <param name="Block">Block of the allocation, or null.</param>
/// <param name="Code">Code of the coupon.</param>
public sealed record TestLine(int Order, int? Block, string Code);

/// <summary>A line of the cutting list.</summary>
/// <param name="Heat">Heat, or its code.</param>
/// <param name="Orientation">Orientation.</param>
/// <param name="Geometry">Size and notch.</param>
/// <param name="Pieces">Number of pieces, spares included.</param>
/// <param name="Note">More to know.</param>
public sealed record CuttingLine(string Heat, string? Orientation, string? Geometry, int Pieces, string? Note = null);

/// <summary>What goes to the bench on paper.</summary>
public sealed record BenchSheet
{
    /// <summary>Enquiry.</summary>
    public required string Enquiry { get; init; }

    /// <summary>Property and unit to write down.</summary>
    public required string Property { get; init; }

    /// <summary>Unit.</summary>
    public required string Unit { get; init; }

    /// <summary>Condition: geometry, orientation, test temperature.</summary>
    public string Condition { get; init; } = "";

    /// <summary>Seed of the allocation.</summary>
    public int? Seed { get; init; }

    /// <summary>Cutting list.</summary>
    public IReadOnlyList<CuttingLine> Cutting { get; init; } = [];

    /// <summary>Places in the loads.</summary>
    public IReadOnlyList<LoadPlace> Loads { get; init; } = [];

    /// <summary>Order of testing.</summary>
    public required IReadOnlyList<TestLine> Tests { get; init; }

    /// <summary>Steps of the treatment, in words.</summary>
    public IReadOnlyList<string> Treatment { get; init; } = [];

    /// <summary>Cautions of the work: step, text, where written.</summary>
    public IReadOnlyList<Casework.Cautions.Caution> Cautions { get; init; } = [];

    /// <summary>True for invented data.</summary>
    public bool IsDemonstration { get; init; }
}
