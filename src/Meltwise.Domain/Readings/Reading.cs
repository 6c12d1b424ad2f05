namespace Meltwise.Domain;

/// <summary>One reading of one coupon, as typed. Never overwritten: a correction is a new version that names its reason.</summary>
/// <param name="Coupon">The coupon.</param>
/// <param name="Property">Name of the property in the shipped table.</param>
/// <param name="Number">Number of the reading on the coupon (indent, field), from 1.</param>
/// <param name="Typed">The figure as typed with its unit.</param>
/// <param name="Instrument">Name of the instrument, or null when unknown.</param>
/// <param name="Session">Session, or null when unknown.</param>
/// <param name="TestTemperatureK">Temperature of the test, in kelvin; null when unknown.</param>
/// <param name="ReadAtUtc">When it was read, or null when only the day or nothing is known.</param>
/// <param name="ReadOn">Day it was read on, as the person saw it.</param>
/// <param name="State">Standing.</param>
/// <param name="Cause">Cause of an invalid reading.</param>
public sealed record Reading(
    CouponKey Coupon, string Property, int Number, CensoredValue Typed, string? Instrument = null, string? Session = null,
    double? TestTemperatureK = null, DateTime? ReadAtUtc = null, DateOnly? ReadOn = null, CouponState State = CouponState.Valid, string? Cause = null);
