namespace Meltwise.Domain;

/// <summary>One prepared test piece. Null means unknown.</summary>
/// <param name="Heat">Name of its heat.</param>
/// <param name="Name">Name within the heat.</param>
/// <param name="Orientation">Direction in the product, e.g. <c>L</c>, <c>T</c>, <c>L-T</c>.</param>
/// <param name="Geometry">Size and notch, e.g. <c>unnotched 7×10×55</c>.</param>
/// <param name="Treatment">Name of its treatment.</param>
/// <param name="Load">Furnace load.</param>
/// <param name="Order">Order of testing.</param>
/// <param name="Code">Blind code engraved on it.</param>
/// <param name="Position">Where in the bar it was cut, e.g. <c>slice 2, mid-radius</c>.</param>
/// <param name="HardnessMoment">Whether its hardness was read before or after the test.</param>
/// <param name="HardnessOrder">Its number in the order of the hardness readings.</param>
public sealed record Coupon(
    string Heat, string Name, string? Orientation = null, string? Geometry = null, string? Treatment = null, string? Load = null, int? Order = null, string? Code = null,
    string? Position = null, HardnessMoment? HardnessMoment = null, int? HardnessOrder = null)
{
    /// <summary>Key on the bench: a coupon's name is unique within its heat.</summary>
    public CouponKey Key => new(Heat, Name);
}

/// <summary>Identity of a coupon.</summary>
/// <param name="Heat">Name of the heat.</param>
/// <param name="Coupon">Name within the heat.</param>
public readonly record struct CouponKey(string Heat, string Coupon)
{
    /// <summary>As printed.</summary>
    public override string ToString() => $"{Heat}/{Coupon}";
}
