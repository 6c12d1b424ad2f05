namespace Meltwise.Statistics.Comparison;

/// <summary>Two roles of several heats compared: every heat of a role weighs the same and has its own variance.</summary>
/// <remarks>
/// <para><b>Formula.</b> θ = mean over the candidate heats of z̄_h less the same of the reference heats; a part s²_h/(n_h·heats²) for every heat; ν by Satterthwaite.</para>
/// <para><b>Limits.</b> These heats only: nothing is said of the scatter among heats. Furnace loads are not used. Every heat needs two coupons for its own variance.</para>
/// <para><b>Source.</b> [Satterthwaite1946].</para>
/// </remarks>
public static class EqualHeatsContrast
{
    /// <summary>Compares the roles.</summary>
    /// <param name="z">Readings on the analysis scale, one a coupon.</param>
    /// <param name="candidate">Whether the coupon's heat is in the candidate role.</param>
    /// <param name="heat">Heat of each coupon, 0 to count − 1.</param>
    /// <param name="names">Names of the heats.</param>
    public static LotContrast Fit(ReadOnlySpan<double> z, ReadOnlySpan<bool> candidate, ReadOnlySpan<int> heat, IReadOnlyList<string> names)
    {
        int heats = names.Count;
        int[] n = new int[heats];
        double[] mean = new double[heats], squares = new double[heats];
        bool[] side = new bool[heats];
        for (int i = 0; i < z.Length; i++) (n[heat[i]], mean[heat[i]], side[heat[i]]) = (n[heat[i]] + 1, mean[heat[i]] + z[i], candidate[i]);
        int inCandidate = 0, inReference = 0;
        for (int h = 0; h < heats; h++)
        {
            if (n[h] == 0) continue;
            mean[h] /= n[h];
            if (side[h]) inCandidate++; else inReference++;
        }
        double[] coefficients = new double[z.Length];
        for (int i = 0; i < z.Length; i++)
        {
            double d = z[i] - mean[heat[i]];
            squares[heat[i]] += d * d;
            coefficients[i] = candidate[i] ? 1.0 / (inCandidate * n[heat[i]]) : -1.0 / (inReference * n[heat[i]]);
        }

        List<LotScatter> scatter = [];
        double estimate = 0;
        for (int h = 0; h < heats; h++)
        {
            if (n[h] == 0) continue;
            int k = side[h] ? inCandidate : inReference;
            estimate += (side[h] ? mean[h] : -mean[h]) / k;
            scatter.Add(new(names[h], side[h], n[h] > 1 ? LotScatter.BeyondRounding(squares[h], z) / (n[h] - 1) : 0, n[h] - 1, 1.0 / ((double)k * k * n[h]), mean[h]));
        }
        return new(LotContrastKind.HeatsEqual, coefficients, [], estimate, [.. scatter.OrderByDescending(s => s.IsCandidate)]);
    }
}
