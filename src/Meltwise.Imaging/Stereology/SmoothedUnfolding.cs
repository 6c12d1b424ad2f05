namespace Meltwise.Imaging.Stereology;

/// <summary>Sizes of spheres in space from section sizes, without negative classes and with neighbouring classes held together.</summary>
/// <remarks>
/// <para><b>Formula.</b> Expectation-maximisation for Poisson counts with a smoothing step: n_j ← S[ n_j Σ_i k_ij c_i / (K n)_i / Σ_i k_ij ], c the section counts, K the same coefficients as
/// <see cref="SaltykovUnfolding"/>, S the weights 1/20, 18/20, 1/20 over neighbours; 400 steps from an even start.</para>
/// <para><b>Assumptions.</b> Spheres, and a size distribution without jumps between neighbouring classes. A single size comes out as a peak three or four classes wide.</para>
/// <para><b>Errors.</b> Standard errors from 100 repeats with the counts drawn again from Poisson distributions, seed 1: they hold the scatter, not the bias of smoothing.</para>
/// <para><b>Source.</b> B. W. Silverman, M. C. Jones, J. D. Wilson, D. W. Nychka, J. Royal Statistical Society B 52 (1990) 271-324.</para>
/// </remarks>
public static class SmoothedUnfolding
{
    private const int Steps = 400, Repeats = 100;
    private const double Side = 0.05;

    /// <summary>Unfolds section diameters.</summary>
    /// <param name="diameters">Diameters of the sections, in any unit of length.</param>
    /// <param name="area">Inspected area in the square of that unit.</param>
    /// <param name="classes">Number of classes, 3 to 30.</param>
    /// <exception cref="ArgumentException">No diameters, or one that is not positive.</exception>
    public static SizeDistribution Unfold(IReadOnlyList<double> diameters, double area, int classes = 20)
    {
        (double[] counts, double width) = SectionClasses.Of(diameters, classes);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(area);
        double[,] kernel = SectionClasses.Kernel(classes, width);
        double[] perVolume = Solve(kernel, counts, area);
        Random random = new(1);
        double[][] repeats = [.. Enumerable.Range(0, Repeats).Select(_ => Solve(kernel, [.. counts.Select(c => Poisson(random, c))], area))];
        double[] error = [.. perVolume.Select((_, j) => Deviation([.. repeats.Select(r => r[j])]))];
        return new("smoothed expectation-maximisation", width, perVolume, error, ["Neighbouring classes are held together: a sharp peak comes out a few classes wide."]);
    }

    private static double[] Solve(double[,] kernel, double[] counts, double area)
    {
        int n = counts.Length;
        double[] size = new double[n], reach = new double[n], ratio = new double[n];
        for (int j = 0; j < n; j++)
            for (int i = 0; i <= j; i++) reach[j] += kernel[i, j];
        Array.Fill(size, counts.Sum() / area / reach.Sum());
        for (int step = 0; step < Steps; step++)
        {
            for (int i = 0; i < n; i++)
            {
                double expected = 0;
                for (int j = i; j < n; j++) expected += kernel[i, j] * size[j];
                ratio[i] = expected > 0 ? counts[i] / area / expected : 0;
            }
            for (int j = 0; j < n; j++)
            {
                double sum = 0;
                for (int i = 0; i <= j; i++) sum += kernel[i, j] * ratio[i];
                size[j] *= sum / reach[j];
            }
            size = [.. size.Select((v, j) => (1 - 2 * Side) * v + Side * (size[Math.Max(0, j - 1)] + size[Math.Min(n - 1, j + 1)]))];
        }
        return size;
    }

    /// <summary>A Poisson draw: by multiplication below 30, by the rounded normal above.</summary>
    private static double Poisson(Random random, double mean)
    {
        if (mean >= 30)
        {
            double normal = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            return Math.Max(0, Math.Round(mean + Math.Sqrt(mean) * normal));
        }
        double limit = Math.Exp(-mean), product = random.NextDouble();
        int count = 0;
        for (; product > limit; product *= random.NextDouble()) count++;
        return count;
    }

    private static double Deviation(double[] values)
    {
        double mean = values.Average();
        return Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (values.Length - 1));
    }
}
