namespace Meltwise.Domain;

/// <summary>What a heat went through hot before it was bought: consolidation, soaks, reheats. It decides how far its carbides have coarsened.</summary>
/// <param name="Heat">Name of the heat.</param>
/// <param name="Steps">Stretches in order; may be empty when only the powder is known.</param>
/// <param name="LargestPowderUm">Sieve of the powder, its largest particle, µm; null when not powder or unknown.</param>
/// <param name="Atmosphere">What the powder was atomised with or the steel soaked in: <c>nitrogen</c>, <c>argon</c>, <c>water</c>; null when unknown.</param>
/// <param name="Cooling">How it cooled after the last hot stretch: <c>slow</c>, <c>air</c>, <c>fast</c>; null when unknown.</param>
/// <param name="Told">Who said so: the maker, a certificate, an estimate; null when unknown.</param>
public sealed record HotHistory(
    string Heat, IReadOnlyList<HotStep> Steps, double? LargestPowderUm = null, string? Atmosphere = null, string? Cooling = null, string? Told = null)
{
    /// <summary>The ways of cooling that are told apart.</summary>
    public static IReadOnlyList<string> Coolings { get; } = ["slow", "air", "fast"];
}

/// <summary>One hot stretch, straight from one temperature to another.</summary>
/// <param name="Kind">What it was: consolidation, soak, reheat, forging, anneal.</param>
/// <param name="FromC">Temperature at its start, °C.</param>
/// <param name="ToC">Temperature at its end, °C; the same when it was held.</param>
/// <param name="Hours">How long, h.</param>
public sealed record HotStep(string Kind, double FromC, double ToC, double Hours);
