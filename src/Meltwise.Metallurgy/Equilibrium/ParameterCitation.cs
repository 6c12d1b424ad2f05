namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>The parameters of an equilibrium gathered by publication: every number with where it comes from.</summary>
/// <param name="Citation">Literature reference in full.</param>
/// <param name="Provenance">How the values came into the set; <see cref="ParameterSet.ProvenanceLegend"/> explains the word.</param>
/// <param name="Parameters">Phase and parameter of each: kind, constituents by sublattice, order.</param>
public sealed record ParameterCitation(string Citation, string Provenance, IReadOnlyList<string> Parameters)
{
    /// <summary>The parameters of one or more results, the publication with most of them first.</summary>
    /// <param name="sources">Every parameter used: <see cref="EquilibriumResult.Sources"/>.</param>
    public static IReadOnlyList<ParameterCitation> Of(IEnumerable<ParameterSource> sources)
    {
        ArgumentNullException.ThrowIfNull(sources);
        return
        [
            .. sources.Distinct().GroupBy(s => (s.Citation, s.Provenance))
                .Select(g => new ParameterCitation(g.Key.Citation, g.Key.Provenance, [.. g.Select(s => $"{s.Phase} {s.Parameter}")]))
                .OrderByDescending(c => c.Parameters.Count).ThenBy(c => c.Citation, StringComparer.Ordinal),
        ];
    }
}
