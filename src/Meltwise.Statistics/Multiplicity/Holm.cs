namespace Meltwise.Statistics.Multiplicity;

/// <summary>Holm's step-down correction: "different in at least one property" at one common error rate.</summary>
/// <remarks><b>Formula.</b> The i-th smallest p is multiplied by (m - i + 1), made monotone, and cut at 1. <b>Limits.</b> None on the dependence.
/// <b>Source.</b> [Holm1979].</remarks>
public static class Holm
{
    /// <summary>Adjusted p values in the order given.</summary>
    public static double[] Adjust(IReadOnlyList<double> p)
    {
        ArgumentNullException.ThrowIfNull(p);
        int[] order = [.. Enumerable.Range(0, p.Count).OrderBy(i => p[i])];
        double[] adjusted = new double[p.Count];
        double largest = 0;
        for (int rank = 0; rank < order.Length; rank++)
        {
            largest = Math.Max(largest, Math.Min(1, (order.Length - rank) * p[order[rank]]));
            adjusted[order[rank]] = largest;
        }
        return adjusted;
    }
}

/// <summary>"All properties equivalent": every test must pass, so the largest p value is the p value of the whole, uncorrected.</summary>
/// <remarks><b>Source.</b> [Berger1982].</remarks>
public static class IntersectionUnion
{
    /// <summary>p value of the claim that all hold.</summary>
    public static double P(IReadOnlyList<double> p)
    {
        ArgumentNullException.ThrowIfNull(p);
        if (p.Count == 0) throw new InsufficientDataException("A claim about all properties needs at least one property.");
        return p.Max();
    }
}
