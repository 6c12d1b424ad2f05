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
/// <param name="Load">Furnace load, the block of the allocation, or null.</param>
/// <param name="Code">Code of the coupon.</param>
public sealed record TestLine(int Order, string? Load, string Code);

/// <summary>A line of the cutting list.</summary>
/// <param name="Heat">Heat, or its code.</param>
/// <param name="Orientation">Orientation.</param>
/// <param name="Geometry">Size and notch.</param>
/// <param name="Pieces">Number of pieces, spares included.</param>
/// <param name="Note">More to know.</param>
public sealed record CuttingLine(string Heat, string? Orientation, string? Geometry, int Pieces, string? Note = null);

/// <summary>What some furnace loads go through.</summary>
/// <param name="Loads">The loads, as a heading names them.</param>
/// <param name="Steps">Steps in words.</param>
public sealed record TreatmentOfLoads(string Loads, IReadOnlyList<string> Steps);

/// <summary>What goes to the bench on paper.</summary>
public sealed record BenchSheet
{
    /// <summary>Enquiry.</summary>
    public required string Enquiry { get; init; }

    /// <summary>Property and unit to write down.</summary>
    public required string Property { get; init; }

    /// <summary>Unit.</summary>
    public required string Unit { get; init; }

    /// <summary>Other properties of the rule and their units, in its order; each gets a column. Hardness has its own.</summary>
    public IReadOnlyList<(string Property, string Unit)> Others { get; init; } = [];

    /// <summary>Condition: geometry, orientation, test temperature.</summary>
    public string Condition { get; init; } = "";

    /// <summary>How coupons came to their loads and order, with the seed; null when nobody knows.</summary>
    public string? Allocation { get; init; }

    /// <summary>Cutting list.</summary>
    public IReadOnlyList<CuttingLine> Cutting { get; init; } = [];

    /// <summary>Places in the loads.</summary>
    public IReadOnlyList<LoadPlace> Loads { get; init; } = [];

    /// <summary>Levels of a temper ladder and the codes that go to each; empty without one.</summary>
    public IReadOnlyList<(string Level, IReadOnlyList<string> Codes)> Levels { get; init; } = [];

    /// <summary>Order of testing.</summary>
    public required IReadOnlyList<TestLine> Tests { get; init; }

    /// <summary>Codes in the order of the hardness readings; empty when it is the order of testing.</summary>
    public IReadOnlyList<string> HardnessOrder { get; init; } = [];

    /// <summary>The treatment of each load or group of loads.</summary>
    public IReadOnlyList<TreatmentOfLoads> Treatments { get; init; } = [];

    /// <summary>Cautions of the heat treatment; they stand before its steps.</summary>
    public IReadOnlyList<Casework.Cautions.Caution> TreatmentCautions { get; init; } = [];

    /// <summary>Cautions of reading and breaking.</summary>
    public IReadOnlyList<Casework.Cautions.Caution> Cautions { get; init; } = [];

    /// <summary>True for invented data.</summary>
    public bool IsDemonstration { get; init; }
}
