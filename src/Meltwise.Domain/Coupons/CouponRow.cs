namespace Meltwise.Domain;

/// <summary>One coupon with all that a comparison needs of it, flat: what a row of a coupon table says, and what the bench hands to the judging.</summary>
/// <remarks>A null text is unknown. Whether a column existed at all is the table's affair (<see cref="CouponTable.Columns"/>).</remarks>
public sealed record CouponRow
{
    /// <summary>Name of the heat.</summary>
    public required string Heat { get; init; }

    /// <summary>Name of the coupon within the heat.</summary>
    public required string Coupon { get; init; }

    /// <summary>Source of the heat.</summary>
    public string? Source { get; init; }

    /// <summary>Grade of the heat.</summary>
    public string? Grade { get; init; }

    /// <summary>Route of the heat.</summary>
    public string? Route { get; init; }

    /// <summary>Orientation in the product.</summary>
    public string? Orientation { get; init; }

    /// <summary>Size and notch.</summary>
    public string? Geometry { get; init; }

    /// <summary>Temperature of the test, in kelvin.</summary>
    public double? TestTemperatureK { get; init; }

    /// <summary>Treatment: on a bench its set values, from a table the text given. Equal text means equal treatment.</summary>
    public string? Treatment { get; init; }

    /// <summary>Low or high temper.</summary>
    public string? TemperFamily { get; init; }

    /// <summary>Furnace load.</summary>
    public string? Load { get; init; }

    /// <summary>Session of hardness measurement.</summary>
    public string? Session { get; init; }

    /// <summary>Order of testing.</summary>
    public int? Order { get; init; }

    /// <summary>Instrument of the property reading.</summary>
    public string? Instrument { get; init; }

    /// <summary>Day of the test.</summary>
    public DateOnly? Date { get; init; }

    /// <summary>Blind code.</summary>
    public string? Code { get; init; }

    /// <summary>Where in the bar it was cut.</summary>
    public string? Position { get; init; }

    /// <summary>Whether its hardness was read before or after the test.</summary>
    public HardnessMoment? HardnessMoment { get; init; }

    /// <summary>Its number in the order of the hardness readings.</summary>
    public int? HardnessOrder { get; init; }

    /// <summary>Where its fracture began; null when it was not examined.</summary>
    public FractureOrigin? Fracture { get; init; }

    /// <summary>Standing.</summary>
    public CouponState State { get; init; }

    /// <summary>Cause of an invalid or excluded coupon.</summary>
    public string? Cause { get; init; }

    /// <summary>True when the exclusion was stamped before the key was opened; null from a bare table, which has no stamps.</summary>
    public bool? ExcludedBeforeKeyOpened { get; init; }

    /// <summary>Hardness readings of this coupon (one an indent), as typed.</summary>
    public IReadOnlyList<CensoredValue> Hardness { get; init; } = [];

    /// <summary>Readings by property name (other than hardness); several readings of one property are repeats.</summary>
    public IReadOnlyDictionary<string, IReadOnlyList<CensoredValue>> Readings { get; init; } = new Dictionary<string, IReadOnlyList<CensoredValue>>();

    /// <summary>Where the row came from, e.g. <c>coupons.csv row 12</c>; null on a bench.</summary>
    public string? Origin { get; init; }
}

/// <summary>Rows with the columns that their table had.</summary>
/// <param name="Rows">The coupons, in the order of the table.</param>
/// <param name="Columns">Key columns that the table has, by the names of the command contract (<c>source</c>, <c>orientation</c>, <c>temper family</c>, ...). A column absent here is not a difference between rows; unknown in a present column does not match known.</param>
/// <param name="Name">Name of the table for messages: a file name, or <c>the bench</c>.</param>
public sealed record CouponTable(IReadOnlyList<CouponRow> Rows, IReadOnlySet<string> Columns, string Name)
{
    /// <summary>Key columns: what a table may say of a coupon besides its readings.</summary>
    public static IReadOnlyList<string> KeyColumns { get; } =
        ["source", "grade", "route", "orientation", "geometry", "test temperature", "treatment", "temper family", "load", "session", "order", "instrument", "date", "code", "position", "hardness moment",
            "hardness order", "fracture origin", "origin size", "origin from surface", "origin seen by", "origin notes", "state", "cause"];
}
