using Meltwise.Statistics.Distributions;

namespace Meltwise.Casework.Planning;

/// <summary>An estimated contrast: its variance and Σ V²/ν without the part of the slope, and the hardness difference that the slope is applied to.</summary>
internal readonly record struct SimulatedEstimate(double Estimate, double Variance, double Spread, double HardnessDifference = 0);

/// <summary>Two lots dealt alike to furnace loads, compared as step 3 does: means within loads, each lot's own variance, or one residual where repeats within loads are too few.</summary>
/// <remarks>With equal numbers of both lots in every load the weights of the loads are their shares of the coupons, so the contrast is the difference of the plain means and Σw²/n is 1/n.</remarks>
internal readonly record struct SimulatedLots(double CandidateMean, double ReferenceMean, double CandidateVariance, double ReferenceVariance, int DegreesOfFreedom, bool IsCommon, int Coupons)
{
    public double Difference => CandidateMean - ReferenceMean;

    public static SimulatedLots Compare(ReadOnlySpan<double> candidate, ReadOnlySpan<double> reference, ReadOnlySpan<int> load, int loads)
    {
        int n = candidate.Length;
        double c = Mean(candidate, load, loads, out double withinC), r = Mean(reference, load, loads, out double withinR);
        if (n - loads >= 2 || loads == 1) return new(c, r, withinC / (n - loads), withinR / (n - loads), n - loads, false, n);

        // Residual of z = lot + load: the squares within loads of both lots together, less what the lots' difference takes.
        int df = 2 * n - loads - 1;
        double common = (WithinLoads(candidate, reference, load, loads) - (c - r) * (c - r) * n / 2) / df;
        return new(c, r, common, common, df, true, n);
    }

    /// <summary>The contrast with own variances.</summary>
    public SimulatedEstimate Own() => Parts(CandidateVariance / Coupons, ReferenceVariance / Coupons, DegreesOfFreedom);

    /// <summary>The contrast with the bench's scatter lent, or with own variances where a lot scatters more than the law allows.</summary>
    /// <param name="law">The law.</param>
    /// <param name="lawVariance">Its variance at the reference's expected mean, which is 0 on the simulated scale.</param>
    /// <param name="critical">F(0.95) of the lot's against the lent degrees of freedom.</param>
    public SimulatedEstimate Lent(PlannedLaw law, double lawVariance, double critical)
    {
        double c = lawVariance * Math.Exp(2 * (law.Exponent - 1) * CandidateMean), r = lawVariance * Math.Exp(2 * (law.Exponent - 1) * ReferenceMean);
        if (CandidateVariance / c > critical || ReferenceVariance / r > critical) return Own();
        double nu = law.LentDf + DegreesOfFreedom;
        return Parts((law.LentDf * c + DegreesOfFreedom * CandidateVariance) / nu / Coupons, (law.LentDf * r + DegreesOfFreedom * ReferenceVariance) / nu / Coupons, nu);
    }

    /// <summary>Critical ratio above which nothing is lent.</summary>
    public static double Critical(PlannedLaw law, int degreesOfFreedom) => FisherF.Quantile(0.95, degreesOfFreedom, law.LentDf);

    private SimulatedEstimate Parts(double c, double r, double df) =>
        IsCommon ? new(Difference, 2 * c, 4 * c * c / df) : new(Difference, c + r, (c * c + r * r) / df);

    private static double Mean(ReadOnlySpan<double> z, ReadOnlySpan<int> load, int loads, out double within)
    {
        Span<double> sum = stackalloc double[loads];
        Span<int> count = stackalloc int[loads];
        double total = 0;
        sum.Clear();
        count.Clear();
        for (int i = 0; i < z.Length; i++)
        {
            sum[load[i]] += z[i];
            count[load[i]]++;
            total += z[i];
        }
        within = 0;
        for (int i = 0; i < z.Length; i++)
        {
            double d = z[i] - sum[load[i]] / count[load[i]];
            within += d * d;
        }
        return total / z.Length;
    }

    private static double WithinLoads(ReadOnlySpan<double> c, ReadOnlySpan<double> r, ReadOnlySpan<int> load, int loads)
    {
        double squares = 0;
        for (int l = 0; l < loads; l++)
        {
            double sum = 0;
            int count = 0;
            for (int i = 0; i < c.Length; i++)
                if (load[i] == l) (sum, count) = (sum + c[i] + r[i], count + 2);
            for (int i = 0; i < c.Length; i++)
            {
                if (load[i] != l) continue;
                (double a, double b) = (c[i] - sum / count, r[i] - sum / count);
                squares += a * a + b * b;
            }
        }
        return squares;
    }
}
