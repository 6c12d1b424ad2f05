using Meltwise.Statistics.LeastSquares;

namespace Meltwise.Statistics.MixedModels;

/// <summary>Degrees of freedom of a contrast from the sampling error of the variance components.</summary>
/// <remarks><b>Formula.</b> v = l'Cl, ν = 2v²/(g'I⁻¹g) with g_k = ∂v/∂σ_k² = l'C X'V⁻¹K_kV⁻¹X C l and I the information of the components.
/// <b>Source.</b> [Satterthwaite1946]; [FaiCornelius1996].</remarks>
internal static class Satterthwaite
{
    public static (double StandardError, double DegreesOfFreedom) Contrast(MixedFit fit, double[] l, double[,] information, bool dropZero)
    {
        double[] g = DesignMoments.Of(fit).Gradient(fit, l);
        int[] kept = [.. Enumerable.Range(0, g.Length).Where(k => !dropZero || fit.Variances[k] > 0)];
        double v = DesignMoments.Quadratic(l, fit.DesignCovariance);
        if (CholeskyFactor.Of(VarianceSearch.Part(information, kept)) is not { } factor) return (Math.Sqrt(v), double.NaN);
        double[] part = [.. kept.Select(k => g[k])];
        double[] solved = factor.Solve(part);
        double spread = 0;
        for (int i = 0; i < part.Length; i++) spread += part[i] * solved[i];
        return (Math.Sqrt(v), 2 * v * v / spread);
    }
}
