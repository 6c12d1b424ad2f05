using System.Globalization;
using Meltwise.Statistics.LeastSquares;

namespace Meltwise.Statistics.MixedModels;

/// <summary>How the variance components are estimated.</summary>
public enum Likelihood
{
    /// <summary>Restricted maximum likelihood: unbiased for the loss of the fixed coefficients. The default.</summary>
    Restricted,

    /// <summary>Full maximum likelihood: for comparing models with different fixed parts.</summary>
    Full,
}

/// <summary>Linear mixed model with any number of independent random factors, nested or crossed: heats, heats within a source, furnace loads.</summary>
/// <remarks>
/// <para><b>Model.</b> y = Xb + Σ Z_k u_k + e, u_k ~ N(0, σ_k² I), e ~ N(0, σ²/w), all independent; w are known weights, 1 unless given.</para>
/// <para><b>Computation.</b> The largest factor is absorbed level by level and only the other factors and the fixed coefficients are
/// factored densely, so 5000 coupons in 400 heats cost little more than 400 heats. Newton steps on the exact score; see
/// <see cref="VarianceScore"/> and <see cref="VarianceSearch"/>.</para>
/// <para><b>Limits.</b> At least one random factor, more readings than fixed coefficients, no correlated random slopes. A component whose
/// best value is negative is set to 0, and a note says so. The second largest factor should stay below about 1000 levels.</para>
/// <para><b>Source.</b> [PattersonThompson1971]; absorption [Henderson1984]; [GilmourThompsonCullis1995].</para>
/// </remarks>
public static class LinearMixedModel
{
    /// <summary>Fits the model.</summary>
    /// <param name="y">Readings on the analysis scale.</param>
    /// <param name="columns">Columns of the fixed design, intercept included; each as long as <paramref name="y"/>.</param>
    /// <param name="names">Names of the coefficients.</param>
    /// <param name="terms">Random factors.</param>
    /// <param name="likelihood">Restricted by default.</param>
    /// <param name="weights">Known relative precisions of the readings, or null.</param>
    /// <exception cref="InsufficientDataException">The data cannot carry the model; the message says what is missing.</exception>
    public static MixedFit Fit(IReadOnlyList<double> y, IReadOnlyList<IReadOnlyList<double>> columns, IReadOnlyList<string> names,
        IReadOnlyList<RandomTerm> terms, Likelihood likelihood = Likelihood.Restricted, IReadOnlyList<double>? weights = null)
    {
        Require(y, columns, names, terms, weights);
        double[] readings = [.. y];
        double[][] design = [.. columns.Select(c => c as double[] ?? [.. c])];
        MixedData data = MixedData.Of(readings, design, names, [.. terms], weights is null ? null : [.. weights]);
        bool reml = likelihood == Likelihood.Restricted;
        (double[] variance, VarianceScore at, int iterations) = VarianceSearch.Maximise(data, reml, Start(data), new double?[terms.Count + 1]);
        return new MixedFit(data, readings, design, names, weights is null ? null : [.. weights], reml, variance, at, iterations);
    }

    /// <summary>The variance about the fixed part, shared out evenly.</summary>
    internal static double[] Start(MixedData data)
    {
        double total = data.Products[^1] / Math.Max(1, data.N - data.P);
        if (!(total > 0))
            throw new InsufficientDataException("The readings lie exactly on the fixed part of the model: there is no scatter to divide into components.");
        return [.. Enumerable.Repeat(total / (data.Terms.Length + 1), data.Terms.Length + 1)];
    }

    private static void Require(IReadOnlyList<double> y, IReadOnlyList<IReadOnlyList<double>> columns, IReadOnlyList<string> names, IReadOnlyList<RandomTerm> terms, IReadOnlyList<double>? weights)
    {
        ArgumentNullException.ThrowIfNull(y);
        ArgumentNullException.ThrowIfNull(columns);
        ArgumentNullException.ThrowIfNull(names);
        ArgumentNullException.ThrowIfNull(terms);
        if (terms.Count == 0)
            throw new InsufficientDataException("A mixed model needs at least one random factor; none was given.");
        if (y.Count <= columns.Count)
            throw new InsufficientDataException($"A mixed model with {columns.Count} fixed coefficients needs more than {columns.Count} readings; got {y.Count}.");
        if (names.Count != columns.Count)
            throw new ArgumentException($"{columns.Count} columns but {names.Count} names.", nameof(names));
        for (int i = 0; i < y.Count; i++)
            if (!double.IsFinite(y[i]))
                throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"Reading {i} is {y[i]}. A missing reading must be left out, not stored as NaN."), nameof(y));
        for (int j = 0; j < columns.Count; j++)
            if (columns[j].Count != y.Count)
                throw new ArgumentException($"Column '{names[j]}' has {columns[j].Count} values for {y.Count} readings.", nameof(columns));
        foreach (RandomTerm term in terms)
        {
            if (term.Level.Count != y.Count)
                throw new ArgumentException($"Random factor '{term.Name}' has {term.Level.Count} labels for {y.Count} readings.", nameof(terms));
            if (term.Labels.Count < 2)
                throw new InsufficientDataException($"Random factor '{term.Name}' has {term.Labels.Count} level; its scatter needs at least 2.");
            if (term.Labels.Count >= y.Count)
                throw new InsufficientDataException($"Random factor '{term.Name}' has as many levels as there are readings ({y.Count}), so it cannot be told from the residual.");
        }
        if (weights is not null && (weights.Count != y.Count || weights.Any(w => !(w > 0))))
            throw new ArgumentException($"Weights must be {y.Count} numbers above 0.", nameof(weights));
    }
}
