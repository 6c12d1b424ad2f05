namespace Meltwise.Domain;

/// <summary>A measured value with its standard uncertainty. Has no order and no equality of size: comparing two heats is a method that states its level.</summary>
/// <param name="Value">The estimate, in the unit the owner states.</param>
/// <param name="StandardUncertainty">Standard uncertainty (k = 1), same unit, not negative.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of the uncertainty; infinity when it comes from a source that gives none.</param>
/// <param name="Source">Where the uncertainty comes from, in words.</param>
public sealed record Measured(double Value, double StandardUncertainty, double DegreesOfFreedom, string Source);
