namespace Meltwise.Domain;

/// <summary>Who a heat was bought from.</summary>
/// <param name="Name">The name the lab uses; private to the bench.</param>
/// <param name="PublicLabel">The label shared views print instead, e.g. <c>Source A</c>.</param>
/// <param name="Notes">Free text.</param>
public sealed record Source(string Name, string PublicLabel, string? Notes = null);
