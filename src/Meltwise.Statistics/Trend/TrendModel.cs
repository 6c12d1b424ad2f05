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
    private readonly Fitted _line;
    private readonly Fitted? _bent;

    private TrendModel(IReadOnlyList<TrendHeat> heats, int sources, Fitted line, Fitted? bent) => (_heats, _sources, _line, _bent) = (heats, sources, line, bent);

    /// <summary>What is fitted before any correction; without a bend its terms are 0.</summary>
    private readonly record struct Fitted(double Slope, double SlopeVariance, double Bend, double BendVariance, double Covariance, double HeatVariance, double? TreatmentVariance, double ResidualVariance);

    /// <summary>Fits the model, or gives null when there are too few heats or hardness does not vary.</summary>
    public static TrendModel? Fit(IReadOnlyList<TrendHeat> heats, int sources)
    {
        if (heats.Count - sources - 1 < HeatTrend.FewestDf) sources = 1;
        if (heats.Count - sources - 1 < HeatTrend.FewestDf) return null;
        bool treatments = heats.Count(h => h.Groups.Count > 1) >= HeatsForTreatmentVariance && heats.All(h => h.Groups.All(g => g.Readings is not null));
        Fitted? Best(bool curved) => OneVariance(heats, sources, curved) is { } one ? (treatments ? TwoVariances(heats, sources, curved) : null) ?? one : null;
        return Best(curved: false) is { } line ? new(heats, sources, line, Best(curved: true)) : null;
    }

    /// <summary>The trend corrected for an error of hardness.</summary>
    public HeatTrend Corrected(HardnessError error)
    {
        double sxx = 1 / _line.SlopeVariance;
        double[] w = [.. _heats.Select(h => 1 / VarianceOfMean(h, _line))], inSource = new double[_sources];
        for (int i = 0; i < w.Length; i++) inSource[Level(_heats[i])] += w[i];
        double lost = 0, squared = 0, weight = 0, centre = 0, level = 0;
        for (int i = 0; i < w.Length; i++)
        {
            double u2 = error.WithinHeatVariance / _heats[i].HardnessCount + error.SessionSd * error.SessionSd;
            lost += w[i] * u2 * (1 - w[i] / inSource[Level(_heats[i])]);
            squared += w[i] * w[i] * u2 * u2;
            (weight, centre, level) = (weight + w[i], centre + w[i] * _heats[i].MeanHardness, level + w[i] * _heats[i].Mean);
        }
        double lambda = 1 - lost / sxx, corrected = _line.Slope / lambda, ofReliability = squared / (sxx * sxx);
        HeatTrend trend = new()
        {
            Heats = _heats.Count,
            Sources = _sources,
            HeatsHrc = [.. _heats.Select(h => h.MeanHardness).Order()],
            TypicalCoupons = TypicalCoupons(),
            SlopeUncorrected = _line.Slope,
            SlopeUncorrectedSe = Math.Sqrt(_line.SlopeVariance),
            Attenuation = lambda,
            SlopeSe = Math.Sqrt((_line.SlopeVariance + corrected * corrected * ofReliability) / (lambda * lambda)),
            HeatVariance = _line.HeatVariance,
            TreatmentVariance = _line.TreatmentVariance,
            ResidualVariance = _line.ResidualVariance,
            Centre = centre / weight,
            Level = level / weight,
            Weight = weight,
            Curvature = _bent is { } b ? (b.Bend, Math.Sqrt(b.BendVariance)) : null,
        };
        return _bent is { } bent && trend.DegreesOfFreedom > HeatTrend.FewestDf ? trend with { Bent = Corrected(bent, trend, ofReliability) } : trend;
    }

    /// <summary>The curve about the centre of the heats, b = b_REML/λ and c = c_REML/λ².</summary>
    private BentTrend Corrected(Fitted bent, HeatTrend line, double ofReliability)
    {
        double lambda = line.Attenuation, twice = 2 * (line.Centre - Middle(_heats)), weight = 0, centre = 0, level = 0, square = 0;
        double tangent = bent.Slope + twice * bent.Bend, tangentVariance = bent.SlopeVariance + 2 * twice * bent.Covariance + twice * twice * bent.BendVariance, together = bent.Covariance + twice * bent.BendVariance;
        foreach (TrendHeat heat in _heats)
        {
            double w = 1 / VarianceOfMean(heat, bent), x = heat.MeanHardness - line.Centre;
            (weight, centre, level, square) = (weight + w, centre + w * x, level + w * heat.Mean, square + w * x * x);
        }
        double b = tangent / lambda, c = bent.Bend / (lambda * lambda), l2 = lambda * lambda;
        SlopeBend bend = new(line.Centre, c, (bent.BendVariance / l2 + 4 * c * c * ofReliability) / l2, (together / lambda + 2 * b * c * ofReliability) / l2);
        return new()
        {
            DegreesOfFreedom = line.DegreesOfFreedom - 1,
            Centre = line.Centre,
            // The weights here differ a little from the line's: taken along the tangent to its centre.
            Level = (level - b * centre) / weight,
            MeanSquare = lambda * square / weight,
            Weight = weight,
            AtCentre = new(b, Math.Sqrt((tangentVariance + b * b * ofReliability) / l2), line.DegreesOfFreedom - 1, bend),
            HeatVariance = bent.HeatVariance,
            ResidualVariance = bent.ResidualVariance,
        };
    }

    private int TypicalCoupons()
    {
        int[] counts = [.. _heats.SelectMany(h => h.Groups).Select(g => g.Count).Order()];
        return counts[counts.Length / 2];
    }

    private static double Middle(IReadOnlyList<TrendHeat> heats) => heats.Average(h => h.MeanHardness);

    private static double VarianceOfMean(TrendHeat heat, Fitted fit) =>
        fit.HeatVariance + (fit.TreatmentVariance ?? 0) * heat.Groups.Sum(g => (double)g.Count * g.Count) / ((double)heat.Count * heat.Count) + fit.ResidualVariance / heat.Count;

    private int Level(TrendHeat heat) => _sources == 1 ? 0 : heat.Source;

    private static Fitted? OneVariance(IReadOnlyList<TrendHeat> heats, int sources, bool curved)
    {
        double middle = Middle(heats);
        bool treatments = HasTreatments(heats);
        List<HeatGroup> groups = [];
        for (int i = 0; i < heats.Count; i++)
            foreach (TrendGroup g in heats[i].Groups)
                groups.Add(new(i, g.Count, g.Mean, g.SquaresWithin, Row(heats[i], g, sources, middle, curved, treatments)));
        return RandomHeatModel.Fit(groups, heats.Count) is { } fit ? Of(fit.Coefficient, fit.Covariance, sources, curved, fit.HeatVariance, null, fit.ResidualVariance) : null;
    }

    private static Fitted Of(Func<int, double> coefficient, Func<int, int, double> covariance, int slope, bool curved, double heat, double? treatment, double residual) => curved
        ? new(coefficient(slope), covariance(slope, slope), coefficient(slope + 1), covariance(slope + 1, slope + 1), covariance(slope, slope + 1), heat, treatment, residual)
        : new(coefficient(slope), covariance(slope, slope), 0, 0, 0, heat, treatment, residual);

    private static Fitted? TwoVariances(IReadOnlyList<TrendHeat> heats, int sources, bool curved)
    {
        double middle = Middle(heats);
        List<double> y = [];
        List<double[]> rows = [];
        List<int> heat = [], cell = [];
        int cells = 0;
        for (int i = 0; i < heats.Count; i++)
        {
            foreach (TrendGroup g in heats[i].Groups)
            {
                double[] row = Row(heats[i], g, sources, middle, curved, treatments: true);
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
            return Of(i => fit.Coefficients[i], (i, j) => fit.CoefficientCovariance[i, j], sources, curved, fit.Components[0].Variance, fit.Components[1].Variance, fit.Components[2].Variance);
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
