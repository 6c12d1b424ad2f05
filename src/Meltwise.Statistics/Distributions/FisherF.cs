namespace Meltwise.Statistics.Distributions;

/// <summary>The F distribution of the ratio of two mean squares, any positive degrees of freedom. Source: [DLMF], 8.17, by the incomplete beta function.</summary>
public static class FisherF
{
    /// <summary>P(F ≤ f).</summary>
    public static double Cdf(double f, double numeratorDf, double denominatorDf) => Tails(f, numeratorDf, denominatorDf).Lower;

    /// <summary>P(F &gt; f).</summary>
    public static double UpperTail(double f, double numeratorDf, double denominatorDf) => Tails(f, numeratorDf, denominatorDf).Upper;

    /// <summary>The f with P(F ≤ f) = p, for 0 &lt; p &lt; 1.</summary>
    public static double Quantile(double p, double numeratorDf, double denominatorDf) =>
        TailInversion.OnPositive(p, f => Tails(f, numeratorDf, denominatorDf), 1);

    private static (double Lower, double Upper) Tails(double f, double numeratorDf, double denominatorDf)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(numeratorDf);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(denominatorDf);
        if (f <= 0) return (0, 1);
        if (double.IsPositiveInfinity(f)) return (1, 0);
        double d1 = numeratorDf, d2 = denominatorDf, sum = d1 * f + d2;
        return IncompleteBeta.Tails(d1 / 2, d2 / 2, d1 * f / sum, d2 / sum);
    }
}
