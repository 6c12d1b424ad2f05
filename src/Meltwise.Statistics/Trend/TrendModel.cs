using Meltwise.Statistics.MixedModels;

namespace Meltwise.Statistics.Trend;

/// <summary>The model of a trend before its correction for error in hardness: fitted once, corrected for as many assumptions on that error as are asked for.</summary>
/// <remarks>See <see cref="HeatTrend"/> for model, formula, limits and source. One variance among heats is fitted from group means; heat × treatment as a second variance by the general mixed model, on the coupons.</remarks>
public sealed class TrendModel
{
    /// <summary>Heats tested at several treatments from which on heat × treatment is a variance of its own.</summary>
    public const int HeatsForTreatmentVariance = 6;

    private readonly IReadOnlyList<TrendHeat> _heats;
    private readonly int _sources;
    private readonly Fitted _fit;
    private readonly (double Estimate, double StandardError)? _curvature;

    private TrendModel(IReadOnlyList<TrendHeat> heats, int sources, Fitted fit, (double Estimate, double StandardError)? curvature) => (_heats, _sources, _fit, _curvature) = (heats, sources, fit, curvature);

    private readonly record struct Fitted(double Slope, double SlopeSe, double HeatVariance, double? TreatmentVariance, double ResidualVariance);

    /// <summary>Fits the model, or gives null when there are too few heats or hardness does not vary.</summary>
    public static TrendModel? Fit(IReadOnlyList<TrendHeat> heats, int sources)
    {
        if (heats.Count - sources - 1 < HeatTrend.FewestDf) sources = 1;
        if (heats.Count - sources - 1 < HeatTrend.FewestDf) return null;
        if (OneVariance(heats, sources, curved: false) is not { } simple) return null;
        int several = heats.Count(h => h.Groups.Count > 1);
        Fitted fit = several >= HeatsForTreatmentVariance && heats.All(h => h.Groups.All(g => g.Readings is not null)) && TwoVariances(heats, sources) is { } both
            ? both
            : new(simple.Coefficient(sources), simple.StandardError(sources), simple.HeatVariance, null, simple.ResidualVariance);
        (double, double)? curvature = OneVariance(heats, sources, curved: true) is { } bent ? (bent.Coefficient(sources + 1), bent.StandardError(sources + 1)) : null;
        return new(heats, sources, fit, curvature);
    }

    /// <summary>The trend corrected for an error of hardness.</summary>
    public HeatTrend Corrected(HardnessError error)
    {
        double se = _fit.SlopeSe, sxx = 1 / (se * se);
        double[] w = [.. _heats.Select(h => 1 / VarianceOfMean(h))], inSource = new double[_sources];
        for (int i = 0; i < w.Length; i++) inSource[Level(_heats[i])] += w[i];
        double lost = 0, squared = 0, weight = 0, centre = 0, level = 0;
        for (int i = 0; i < w.Length; i++)
        {
            double u2 = error.WithinHeatVariance / _heats[i].HardnessCount + error.SessionSd * error.SessionSd;
            lost += w[i] * u2 * (1 - w[i] / inSource[Level(_heats[i])]);
            squared += w[i] * w[i] * u2 * u2;
            (weight, centre, level) = (weight + w[i], centre + w[i] * _heats[i].MeanHardness, level + w[i] * _heats[i].Mean);
        }
        double lambda = 1 - lost / sxx, corrected = _fit.Slope / lambda;
        return new()
        {
            Heats = _heats.Count,
            Sources = _sources,
            LowestHrc = _heats.Min(h => h.MeanHardness),
            HighestHrc = _heats.Max(h => h.MeanHardness),
            SlopeUncorrected = _fit.Slope,
            SlopeUncorrectedSe = se,
            Attenuation = lambda,
            SlopeSe = Math.Sqrt(se * se / (lambda * lambda) + corrected * corrected * squared / (lambda * sxx * lambda * sxx)),
            HeatVariance = _fit.HeatVariance,
            TreatmentVariance = _fit.TreatmentVariance,
            ResidualVariance = _fit.ResidualVariance,
            Centre = centre / weight,
            Level = level / weight,
            Weight = weight,
            Curvature = _curvature,
        };
    }

    private double VarianceOfMean(TrendHeat heat) =>
        _fit.HeatVariance + (_fit.TreatmentVariance ?? 0) * heat.Groups.Sum(g => (double)g.Count * g.Count) / ((double)heat.Count * heat.Count) + _fit.ResidualVariance / heat.Count;

    private int Level(TrendHeat heat) => _sources == 1 ? 0 : heat.Source;

    private static RandomHeatModel? OneVariance(IReadOnlyList<TrendHeat> heats, int sources, bool curved)
    {
        double middle = heats.Average(h => h.MeanHardness);
        bool treatments = HasTreatments(heats);
        List<HeatGroup> groups = [];
        for (int i = 0; i < heats.Count; i++)
            foreach (TrendGroup g in heats[i].Groups)
                groups.Add(new(i, g.Count, g.Mean, g.SquaresWithin, Row(heats[i], g, sources, middle, curved, treatments)));
        return RandomHeatModel.Fit(groups, heats.Count);
    }

    private static Fitted? TwoVariances(IReadOnlyList<TrendHeat> heats, int sources)
    {
        double middle = heats.Average(h => h.MeanHardness);
        List<double> y = [];
        List<double[]> rows = [];
        List<int> heat = [], cell = [];
        int cells = 0;
        for (int i = 0; i < heats.Count; i++)
        {
            foreach (TrendGroup g in heats[i].Groups)
            {
                double[] row = Row(heats[i], g, sources, middle, curved: false, treatments: true);
                foreach (double z in g.Readings!)
                {
                    y.Add(z);
                    rows.Add(row);
                    heat.Add(i);
                    cell.Add(cells);
                }
                cells++;
            }
        }
        double[][] columns = [.. Enumerable.Range(0, rows[0].Length).Select(j => rows.Select(r => r[j]).ToArray())];
        try
        {
            MixedFit fit = LinearMixedModel.Fit(y, columns, [.. columns.Select((_, j) => $"column {j}")], [new("heat", heat, Numbered(heats.Count)), new("heat and treatment", cell, Numbered(cells))]);
            return new(fit.Coefficients[sources], Math.Sqrt(fit.CoefficientCovariance[sources, sources]), fit.Components[0].Variance, fit.Components[1].Variance, fit.Components[2].Variance);
        }
        catch (InsufficientDataException)
        {
            return null;
        }
    }

    private static string[] Numbered(int count) => [.. Enumerable.Range(0, count).Select(i => i.ToString(System.Globalization.CultureInfo.InvariantCulture))];

    private static bool HasTreatments(IReadOnlyList<TrendHeat> heats) => heats.Any(h => h.Groups.Count > 1 && h.Groups.Any(g => Math.Abs(g.MeanHardness - h.MeanHardness) > 1e-9));

    private static double[] Row(TrendHeat heat, TrendGroup group, int sources, double middle, bool curved, bool treatments)
    {
        double x = heat.MeanHardness - middle;
        double[] row = new double[sources + 1 + (curved ? 1 : 0) + (treatments ? 1 : 0)];
        row[sources == 1 ? 0 : heat.Source] = 1;
        row[sources] = x;
        if (curved) row[sources + 1] = x * x;
        if (treatments) row[^1] = group.MeanHardness - heat.MeanHardness;
        return row;
    }
}
