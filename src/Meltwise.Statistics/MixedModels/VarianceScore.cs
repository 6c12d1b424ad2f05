namespace Meltwise.Statistics.MixedModels;

/// <summary>Log-likelihood, score and information of the variance components at one point; residual last.</summary>
/// <remarks>
/// <para><b>Formula.</b> score_a = ½(y'PK_aPy - tr PK_a), expected information ½ tr(PK_aPK_b), average information ½ y'PK_aPK_bPy,
/// observed = 2·average - expected, since V is linear in the components. For maximum likelihood V⁻¹ takes the place of P in the traces.
/// The residual's own rows follow from PVP = P, so no n by n matrix is ever formed.</para>
/// <para><b>Source.</b> [GilmourThompsonCullis1995]; [SearleCasellaMcCulloch1992], ch. 6.</para>
/// </remarks>
internal sealed class VarianceScore
{
    public required double LogLikelihood { get; init; }
    public required double[] Score { get; init; }
    public required double[,] Expected { get; init; }
    public required double[,] Observed { get; init; }
    public required double[,] Average { get; init; }

    /// <summary>The log-likelihood alone; null where V is not positive definite.</summary>
    public static double? LogLikelihoodAt(MixedData d, double[] variance, bool reml)
    {
        if (Absorbed.At(d, variance, withDesign: true) is not { } full) return null;
        Absorbed? plain = reml ? full : Absorbed.At(d, variance, withDesign: false);
        return plain is null ? null : LogLikelihoodOf(d, reml, plain.LogDeterminant, full.ResidualSquares());
    }

    public static VarianceScore? At(MixedData d, double[] variance, bool reml)
    {
        if (Absorbed.At(d, variance, withDesign: true)?.WithLevels() is not { } full) return null;
        Absorbed? plain = reml ? full : Absorbed.At(d, variance, withDesign: false)?.WithLevels();
        if (plain is null) return null;

        double[] big = new double[d.BigLevels], small = new double[d.SmallLevels];
        double squares = full.Residual(big, small);
        double[] fit = SquaresByTerm(d, big, small);
        double[,] fitProducts = full.Quadratics(big, small);
        (double[] trace, double[,] traceProducts) = plain.Blocks();

        double[] firstFit = WithResidual(fit, squares, variance), firstTrace = WithResidual(trace, d.N - (reml ? d.P : 0), variance);
        double[,] average = HalfWithResidual(fitProducts, firstFit, variance), expected = HalfWithResidual(traceProducts, firstTrace, variance);
        int m = firstFit.Length;
        double[,] observed = new double[m, m];
        for (int a = 0; a < m; a++)
            for (int b = 0; b < m; b++) observed[a, b] = 2 * average[a, b] - expected[a, b];
        return new()
        {
            LogLikelihood = LogLikelihoodOf(d, reml, plain.LogDeterminant, squares),
            Score = [.. firstFit.Select((f, a) => 0.5 * (f - firstTrace[a]))],
            Expected = expected,
            Observed = observed,
            Average = average,
        };
    }

    private static double LogLikelihoodOf(MixedData d, bool reml, double logDeterminant, double squares)
    {
        double logDesign = 0;
        if (reml)
            for (int j = 0; j < d.P; j++) logDesign += 2 * Math.Log(d.Design.R[j, j]);
        return -0.5 * ((d.N - (reml ? d.P : 0)) * Math.Log(2 * Math.PI) + logDeterminant + logDesign - d.LogWeights + squares);
    }

    private static double[] SquaresByTerm(MixedData d, double[] big, double[] small)
    {
        double[] squares = new double[d.Terms.Length];
        foreach (double v in big) squares[d.Big] += v * v;
        for (int i = 0; i < small.Length; i++) squares[d.SmallTerm[i]] += small[i] * small[i];
        return squares;
    }

    /// <summary>Adds the residual's entry: f(P·I·P) = (f(P) - Σ σ_k² f(P·K_k·P))/σ².</summary>
    private static double[] WithResidual(double[] byTerm, double whole, double[] variance)
    {
        double left = whole;
        for (int k = 0; k < byTerm.Length; k++) left -= variance[k] * byTerm[k];
        return [.. byTerm, left / variance[^1]];
    }

    private static double[,] HalfWithResidual(double[,] products, double[] first, double[] variance)
    {
        int m = first.Length - 1;
        double[,] all = new double[m + 1, m + 1];
        double corner = first[m];
        for (int a = 0; a < m; a++)
        {
            double left = first[a];
            for (int b = 0; b < m; b++)
            {
                all[a, b] = 0.5 * products[a, b];
                left -= variance[b] * products[a, b];
            }
            left /= variance[m];
            all[a, m] = all[m, a] = 0.5 * left;
            corner -= variance[a] * left;
        }
        all[m, m] = 0.5 * corner / variance[m];
        return all;
    }
}
