namespace Meltwise.Statistics.Comparison;

/// <summary>Two lots compared within furnace loads, each with its own variance.</summary>
/// <remarks>
/// <para><b>Model.</b> z = load + lot + e, e independent with a variance of its lot. Lot means are compared within each load that holds both lots.</para>
/// <para><b>Formula.</b> θ = Σ w_l(z̄_Cl − z̄_Rl), w_l ∝ n_Cl·n_Rl/(n_Cl + n_Rl), Σw = 1. V_C = s²_C·Σw_l²/n_Cl, s²_C pooled within cells on coupons − cells;
/// V_R likewise; ν by Satterthwaite. With one load this is Welch's test. Where coupons − cells is below 2 in a lot, the residual of z = lot + load is used for both.</para>
/// <para><b>Limits.</b> Coupons in loads that hold one lot only do not enter. At least one load must hold both lots.</para>
/// <para><b>Source.</b> [Welch1947]; the weights are the least-squares ones of a randomized block design.</para>
/// </remarks>
public static class WithinLoadContrast
{
    /// <summary>Compares the lots.</summary>
    /// <param name="z">Readings on the analysis scale, one a coupon.</param>
    /// <param name="candidate">Whether the coupon belongs to the candidate lot.</param>
    /// <param name="load">Load of each coupon, 0 to <paramref name="loads"/> − 1.</param>
    /// <param name="loads">Number of loads.</param>
    /// <returns>The contrast, or null when no load holds both lots.</returns>
    public static LotContrast? Fit(ReadOnlySpan<double> z, ReadOnlySpan<bool> candidate, ReadOnlySpan<int> load, int loads)
    {
        int[] nC = new int[loads], nR = new int[loads];
        double[] sumC = new double[loads], sumR = new double[loads];
        for (int i = 0; i < z.Length; i++)
        {
            (candidate[i] ? nC : nR)[load[i]]++;
            (candidate[i] ? sumC : sumR)[load[i]] += z[i];
        }

        double[] weight = new double[loads];
        double total = 0;
        for (int l = 0; l < loads; l++)
            if (nC[l] > 0 && nR[l] > 0) total += weight[l] = (double)nC[l] * nR[l] / (nC[l] + nR[l]);
        if (total == 0) return null;

        double estimate = 0, unitC = 0, unitR = 0;
        for (int l = 0; l < loads; l++)
        {
            if (weight[l] == 0) continue;
            weight[l] /= total;
            estimate += weight[l] * (sumC[l] / nC[l] - sumR[l] / nR[l]);
            unitC += weight[l] * weight[l] / nC[l];
            unitR += weight[l] * weight[l] / nR[l];
        }

        double[] coefficients = new double[z.Length];
        for (int i = 0; i < z.Length; i++)
            coefficients[i] = candidate[i] ? weight[load[i]] / nC[load[i]] : -weight[load[i]] / nR[load[i]];

        LotScatter c = Within(z, candidate, load, weight, sumC, nC, true, unitC), r = Within(z, candidate, load, weight, sumR, nR, false, unitR);
        if (c.DegreesOfFreedom >= 2 && r.DegreesOfFreedom >= 2 || Shared(weight) == 1)
            return new(LotContrastKind.OwnVariances, coefficients, weight, estimate, [c, r]);
        return new(LotContrastKind.CommonResidual, coefficients, weight, estimate, [Common(z, load, weight, estimate, total, c.Mean)]);
    }

    private static int Shared(ReadOnlySpan<double> weight)
    {
        int shared = 0;
        foreach (double w in weight) if (w > 0) shared++;
        return shared;
    }

    private static LotScatter Within(ReadOnlySpan<double> z, ReadOnlySpan<bool> candidate, ReadOnlySpan<int> load, ReadOnlySpan<double> weight,
        ReadOnlySpan<double> sum, ReadOnlySpan<int> n, bool side, double unit)
    {
        double squares = 0, all = 0;
        int coupons = 0, cells = 0;
        for (int l = 0; l < n.Length; l++)
            if (weight[l] > 0) (coupons, cells, all) = (coupons + n[l], cells + 1, all + sum[l]);
        for (int i = 0; i < z.Length; i++)
        {
            if (candidate[i] != side || weight[load[i]] == 0) continue;
            double d = z[i] - sum[load[i]] / n[load[i]];
            squares += d * d;
        }
        int df = coupons - cells;
        squares = LotScatter.BeyondRounding(squares, z);
        return new(side ? "candidate" : "reference", side, df > 0 ? squares / df : 0, df, unit, all / coupons);
    }

    /// <summary>Residual of z = lot + load: what is left within loads after the lot difference, on N − loads − 1.</summary>
    private static LotScatter Common(ReadOnlySpan<double> z, ReadOnlySpan<int> load, ReadOnlySpan<double> weight, double estimate, double total, double mean)
    {
        double[] sum = new double[weight.Length];
        int[] n = new int[weight.Length];
        for (int i = 0; i < z.Length; i++) (sum[load[i]], n[load[i]]) = (sum[load[i]] + z[i], n[load[i]] + 1);
        double squares = 0;
        int coupons = 0;
        for (int i = 0; i < z.Length; i++)
        {
            if (weight[load[i]] == 0) continue;
            double d = z[i] - sum[load[i]] / n[load[i]];
            squares += d * d;
            coupons++;
        }
        int df = coupons - Shared(weight) - 1;
        return new("common", true, df > 0 ? LotScatter.BeyondRounding(squares - estimate * estimate * total, z) / df : 0, df, 1 / total, mean);
    }
}
