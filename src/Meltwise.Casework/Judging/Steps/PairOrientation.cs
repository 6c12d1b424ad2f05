namespace Meltwise.Casework.Judging;

/// <summary>What candidate over reference means for a set of pairs: the same two sources, the same two routes, or newcomer over incumbent.</summary>
/// <remarks>The first of these that holds for every pair is taken, and pairs compared the other way round are turned, so that all read as the last one (this enquiry's) does. A newcomer is a source
/// of which the bench had tested no other heat when the rule was locked; its incumbent had such heats.</remarks>
public static class PairOrientation
{
    private const string Newcomer = "newcomer", Incumbent = "incumbent";

    /// <summary>The orientation in words, null when there is none, and the pairs turned to it.</summary>
    public static (string? Orientation, List<EarlierPair> Pairs) Of(IReadOnlyList<EarlierPair> pairs) =>
        By(pairs, p => (p.CandidateSource, p.ReferenceSource)) ?? By(pairs, p => (p.CandidateRoute, p.ReferenceRoute)) ?? By(pairs, Standing) ?? (null, [.. pairs]);

    private static (string?, string?) Standing(EarlierPair pair) => (pair.CandidateIsNewcomer, pair.ReferenceIsNewcomer) switch
    {
        (true, false) => (Newcomer, Incumbent),
        (false, true) => (Incumbent, Newcomer),
        _ => (null, null),
    };

    private static (string?, List<EarlierPair>)? By(IReadOnlyList<EarlierPair> pairs, Func<EarlierPair, (string? Candidate, string? Reference)> kind)
    {
        if (kind(pairs[^1]) is not ({ } candidate, { } reference) || Same(candidate, reference)) return null;
        List<EarlierPair> turned = [];
        foreach (EarlierPair pair in pairs)
        {
            (string? c, string? r) = kind(pair);
            if (Same(c, candidate) && Same(r, reference)) turned.Add(pair);
            else if (Same(c, reference) && Same(r, candidate)) turned.Add(pair.Turned());
            else return null;
        }
        return ($"{candidate} over {reference}", turned);
    }

    private static bool Same(string? a, string? b) => string.Equals(a, b, StringComparison.OrdinalIgnoreCase);
}
