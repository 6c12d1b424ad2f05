namespace Meltwise.Statistics.MixedModels;

/// <summary>What each reading and each level does to a mixed model: residuals to look at, and the fit without one level.</summary>
/// <remarks><b>Formula.</b> Conditional residual y - Xb - Zu, over the residual standard deviation; influence by refitting without
/// one level of a random factor. <b>Source.</b> [PinheiroBates2000], 4.3; [NieuwenhuisTeGrotenhuisPelzer2012].</remarks>
public static class MixedDiagnostics
{
    /// <summary>Conditional residuals over the residual standard deviation, in the order of the readings.</summary>
    public static double[] StandardizedResiduals(MixedFit fit)
    {
        ArgumentNullException.ThrowIfNull(fit);
        IReadOnlyList<RandomEffect>[] effects = [.. fit.Data.Terms.Select((_, k) => fit.Effects(k))];
        double sd = Math.Sqrt(fit.Variances[^1]);
        double[] residuals = new double[fit.Readings.Length];
        for (int i = 0; i < residuals.Length; i++)
        {
            double fitted = 0;
            for (int j = 0; j < fit.Coefficients.Length; j++) fitted += fit.Design[j][i] * fit.Coefficients[j];
            for (int k = 0; k < effects.Length; k++) fitted += effects[k][fit.Data.Terms[k].Level[i]].Effect;
            residuals[i] = (fit.Readings[i] - fitted) / sd * Math.Sqrt(fit.Weights?[i] ?? 1);
        }
        return residuals;
    }

    /// <summary>The coefficients refitted without each level of a factor in turn; null where the rest cannot carry the model.</summary>
    public static IReadOnlyList<(string Left, double[]? Coefficients)> WithoutEachLevel(MixedFit fit, int term)
    {
        ArgumentNullException.ThrowIfNull(fit);
        return [.. fit.Data.Terms[term].Labels.Select((label, level) => (label, Without(fit, term, level)))];
    }

    private static double[]? Without(MixedFit fit, int term, int level)
    {
        int[] kept = [.. Enumerable.Range(0, fit.Readings.Length).Where(i => fit.Data.Terms[term].Level[i] != level)];
        try
        {
            return LinearMixedModel.Fit([.. kept.Select(i => fit.Readings[i])], [.. fit.Design.Select(c => (IReadOnlyList<double>)[.. kept.Select(i => c[i])])], fit.CoefficientNames,
                [.. fit.Data.Terms.Select(t => RandomTerm.Of(t.Name, kept.Select(i => t.Labels[t.Level[i]])))],
                fit.IsRestricted ? Likelihood.Restricted : Likelihood.Full, fit.Weights is null ? null : [.. kept.Select(i => fit.Weights[i])]).Coefficients;
        }
        catch (InsufficientDataException)
        {
            return null;
        }
    }
}
