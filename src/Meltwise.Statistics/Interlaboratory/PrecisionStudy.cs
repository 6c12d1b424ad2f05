using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Interlaboratory;

/// <summary>Repeatability and reproducibility of a method from one material measured in several laboratories, or on several machines.</summary>
/// <remarks><b>Formula.</b> s_r pooled within laboratories; s_L² = s_x̄² - s_r²/n, not below 0; s_R² = s_L² + s_r², not below s_r². Consistency: h = deviation of a laboratory's mean over s_x̄, k = its standard deviation over s_r, with their critical values.
/// <b>Limits.</b> Equal numbers of results, at least 3 laboratories. <b>Source.</b> [ASTM-E691]; [ISO5725-2]; [Mandel1985].</remarks>
public static class PrecisionStudy
{
    /// <summary>Analyses one level.</summary>
    /// <param name="laboratories">Results, one inner list a laboratory.</param>
    public static PrecisionResult Of(IReadOnlyList<IReadOnlyList<double>> laboratories)
    {
        ArgumentNullException.ThrowIfNull(laboratories);
        int p = laboratories.Count;
        if (p < 3) throw new InsufficientDataException($"A precision study needs at least 3 laboratories; got {p}.");
        int n = laboratories[0].Count;
        if (n < 2 || laboratories.Any(l => l.Count != n))
            throw new InsufficientDataException("Every laboratory needs the same number of results, at least 2.");
        double[] mean = [.. laboratories.Select(l => l.Average())];
        double[] variance = [.. laboratories.Select((l, i) => l.Sum(y => (y - mean[i]) * (y - mean[i])) / (n - 1))];
        double grand = mean.Average(), within = variance.Average(), ofMeans = mean.Sum(m => (m - grand) * (m - grand)) / (p - 1);
        double between = Math.Max(0, ofMeans - within / n);
        return new(grand, Math.Sqrt(ofMeans), Math.Sqrt(within), Math.Sqrt(between), Math.Sqrt(between + within),
            [.. mean.Select(m => (m - grand) / Math.Sqrt(ofMeans))], [.. variance.Select(v => Math.Sqrt(v / within))], variance.Max() / variance.Sum());
    }

    /// <summary>Critical values of h and k at a level such as 0.005.</summary>
    public static (double H, double K) Critical(int laboratories, int results, double alpha)
    {
        double t = StudentT.Quantile(1 - alpha / 2, laboratories - 2), f = FisherF.Quantile(1 - alpha, results - 1, (laboratories - 1) * (results - 1));
        return ((laboratories - 1) * t / Math.Sqrt(laboratories * (t * t + laboratories - 2)), Math.Sqrt(laboratories / (1 + (laboratories - 1) / f)));
    }
}

/// <summary>Precision of a method at one level.</summary>
/// <param name="Mean">Mean of laboratory means.</param>
/// <param name="SdOfMeans">Standard deviation of laboratory means.</param>
/// <param name="Repeatability">s_r.</param>
/// <param name="BetweenLaboratories">s_L.</param>
/// <param name="Reproducibility">s_R.</param>
/// <param name="H">Consistency of means, one a laboratory.</param>
/// <param name="K">Consistency of scatter, one a laboratory.</param>
/// <param name="CochranC">Largest variance over the sum of variances.</param>
public sealed record PrecisionResult(double Mean, double SdOfMeans, double Repeatability, double BetweenLaboratories, double Reproducibility,
    IReadOnlyList<double> H, IReadOnlyList<double> K, double CochranC);
