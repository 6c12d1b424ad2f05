using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.OneWay;

/// <summary>Do k groups share one mean, each with a scatter of its own?</summary>
/// <remarks><b>Formula.</b> Weights w = n/s², F = Σw(ȳ - ỹ)²/(k - 1) over 1 + 2(k - 2)Λ/(k² - 1) with Λ = Σ(1 - w/W)²/(n - 1); denominator
/// degrees of freedom (k² - 1)/(3Λ). <b>Limits.</b> Every group needs at least 2 readings and some scatter. <b>Source.</b> [Welch1951].</remarks>
public static class WelchAnova
{
    /// <summary>The test.</summary>
    public static WelchAnovaResult Fit(IReadOnlyList<IReadOnlyList<double>> groups)
    {
        GroupSummary[] g = GroupSummary.Of(groups);
        int k = g.Length;
        double sum = g.Sum(x => x.N / x.Variance), mean = g.Sum(x => x.N / x.Variance * x.Mean) / sum;
        double lambda = g.Sum(x => Math.Pow(1 - x.N / x.Variance / sum, 2) / (x.N - 1));
        double f = g.Sum(x => x.N / x.Variance * Math.Pow(x.Mean - mean, 2)) / (k - 1) / (1 + 2 * (k - 2) * lambda / (k * k - 1.0));
        return new(f, k - 1, (k * k - 1) / (3 * lambda));
    }
}

/// <summary>Result of Welch's test of several means.</summary>
/// <param name="F">F statistic.</param>
/// <param name="NumeratorDf">k - 1.</param>
/// <param name="DenominatorDf">Approximate denominator degrees of freedom.</param>
public sealed record WelchAnovaResult(double F, int NumeratorDf, double DenominatorDf)
{
    /// <summary>p value.</summary>
    public double P => FisherF.UpperTail(F, NumeratorDf, DenominatorDf);
}

/// <summary>Size, mean and variance of one group.</summary>
internal readonly record struct GroupSummary(int N, double Mean, double Variance)
{
    public static GroupSummary[] Of(IReadOnlyList<IReadOnlyList<double>> groups)
    {
        ArgumentNullException.ThrowIfNull(groups);
        if (groups.Count < 2) throw new InsufficientDataException($"A comparison of groups needs at least 2 groups; got {groups.Count}.");
        return [.. groups.Select((g, i) =>
        {
            if (g.Count < 2) throw new InsufficientDataException($"Group {i} has {g.Count} reading; its own scatter needs at least 2.");
            double mean = g.Average(), variance = g.Sum(y => (y - mean) * (y - mean)) / (g.Count - 1);
            if (variance == 0) throw new InsufficientDataException($"All readings of group {i} are equal, so it shows no scatter to compare with.");
            return new GroupSummary(g.Count, mean, variance);
        })];
    }
}
