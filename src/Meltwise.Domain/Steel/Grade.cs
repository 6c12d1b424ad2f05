namespace Meltwise.Domain;

/// <summary>A composition class by standard designation or generic composition.</summary>
/// <param name="Name">Designation, e.g. <c>AISI M4</c>, <c>EN ISO 4957 HS6-5-3</c>.</param>
/// <param name="Family">The family the trend may pool, e.g. <c>powder high-speed</c>; null when none was said.</param>
/// <param name="PrivateAlias">A name kept out of public output.</param>
public sealed record Grade(string Name, string? Family = null, string? PrivateAlias = null);
