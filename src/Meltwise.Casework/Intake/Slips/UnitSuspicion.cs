namespace Meltwise.Casework.Intake;

/// <summary>A column whose figures fit the bench's history better in another unit.</summary>
/// <param name="Sheet">Sheet of a workbook, or null.</param>
/// <param name="Column">Heading of the column.</param>
/// <param name="Unit">Unit the heading says.</param>
/// <param name="LikelyUnit">Unit that fits better.</param>
/// <param name="Words">Why, with the figures.</param>
public sealed record UnitSuspicion(string? Sheet, string Column, string Unit, string LikelyUnit, string Words);
