using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>A reading as it is typed.</summary>
/// <param name="Coupon">The coupon.</param>
/// <param name="Property">Name of the property.</param>
/// <param name="Number">Number of the reading on the coupon, from 1.</param>
/// <param name="Text">What was typed: <c>61.0</c>, <c>&gt;120</c>, <c>30,5 ft·lbf</c>.</param>
/// <param name="Unit">Unit that holds where none is typed.</param>
/// <param name="Instrument">Name of the instrument.</param>
/// <param name="Session">Session.</param>
/// <param name="TestTemperatureK">Temperature of the test, K.</param>
/// <param name="State">Standing.</param>
/// <param name="Cause">Cause of an invalid reading.</param>
public sealed record TypedReading(
    CouponKey Coupon, string Property, int Number, string Text, string Unit, string? Instrument = null, string? Session = null, double? TestTemperatureK = null,
    CouponState State = CouponState.Valid, string? Cause = null);
