namespace Meltwise.Domain;

/// <summary>A hardness tester, pendulum, balance, microscope.</summary>
/// <param name="Name">Name on this bench, unique; no maker's name in public output.</param>
/// <param name="Kind">Kind, e.g. <c>pendulum</c>, <c>hardness tester</c>.</param>
/// <param name="Property">Name of the property it reads.</param>
/// <param name="Unit">Unit its scale shows.</param>
/// <param name="Resolution">Smallest step, in <paramref name="Unit"/>; null when unknown.</param>
/// <param name="UsableLow">Lowest usable value, in <paramref name="Unit"/>.</param>
/// <param name="UsableHigh">Highest usable value (80 % of a pendulum's capacity), in <paramref name="Unit"/>.</param>
/// <param name="Notes">Striker, indenter, place.</param>
public sealed record Instrument(
    string Name, string Kind, string Property, string Unit, double? Resolution = null, double? UsableLow = null, double? UsableHigh = null, string? Notes = null);

/// <summary>A verification of an instrument: what was found, and until when it holds.</summary>
/// <param name="Instrument">Name of the instrument.</param>
/// <param name="On">Day of the verification.</param>
/// <param name="ValidUntil">Last day it holds.</param>
/// <param name="Passed">Whether it was found within limits.</param>
/// <param name="Reference">Block or reference lot used.</param>
/// <param name="ReferenceValue">Its certified value.</param>
/// <param name="Found">Mean found.</param>
/// <param name="Notes">Free text.</param>
/// <param name="Readings">Its single readings, in the unit of the instrument; null where only the mean was put down.</param>
public sealed record Verification(
    string Instrument, DateOnly On, DateOnly ValidUntil, bool Passed, string? Reference = null, double? ReferenceValue = null, double? Found = null, string? Notes = null, IReadOnlyList<double>? Readings = null);
