namespace Meltwise.Domain;

/// <summary>One melt, one chemistry: the unit that claims about a source rest on. Null means unknown and is shown as the word unknown.</summary>
/// <param name="Name">Name on this bench, unique: <c>K17</c>.</param>
/// <param name="Source">Name of its source, or null when unknown.</param>
/// <param name="Grade">Name of its grade, or null when unknown.</param>
/// <param name="Route">How it was melted and consolidated: ingot, remelted, spray-formed, powder; null when unknown.</param>
/// <param name="Consolidation">Consolidation history in words (isostatic pressing, reductions, anneal), or null when unknown.</param>
/// <param name="Product">What was bought: bar, plate, size.</param>
/// <param name="Received">Day it was received.</param>
/// <param name="Notes">Free text.</param>
public sealed record Heat(
    string Name, string? Source, string? Grade, string? Route, string? Consolidation = null, string? Product = null, DateOnly? Received = null, string? Notes = null);
