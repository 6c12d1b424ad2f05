using MathNet.Numerics.RootFinding;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.Sources;
using Meltwise.Statistics.Trend;

namespace Meltwise.Statistics.Bayesian;

/// <summary>Posterior of the difference of the long-run means of two sources, heats random: a cross-check of the verdict, never counted in it.</summary>
/// <remarks>
/// <para><b>Model.</b> q_h = z̄_h − b·x_h ~ N(α_source, τ² + σ²/n_h); squares within heats ~ σ²χ². Priors flat in every α and in ln σ, half-normal of a given scale in τ.</para>
/// <para><b>Formula.</b> v = τ² + σ²/n, w = 1/v, W = Σw in a source: p(ln σ, τ | z) ∝ p(τ) σ^−ν exp(−S/2σ²) Π_sources W^−½ Π√w exp(−½Σw(q − q̄)²), q̄ = Σwq/W.
/// Given both, θ = α_C − α_R is normal with mean q̄_C − q̄_R and variance 1/W_C + 1/W_R + D²SE(b)², D the same contrast of hardness (with a bend, the variance of b·D + c·D₂); so θ is a mixture of normals.</para>
/// <para><b>Computation.</b> Trapezoidal rule in ln σ and in arsinh(τ/c), c = σ̂/√(largest n) or the prior's scale if smaller; the integrand is even in τ and analytic, so the rule converges exponentially. No random numbers.</para>
/// <para><b>Limits.</b> At least one heat with two coupons, and scatter within heats; one σ for all heats. With few heats the prior of τ weighs. The slope is taken as normal about b whatever its ν. The distribution of τ itself is read off the grid, to about 1 %.</para>
/// <para><b>Source.</b> [Gelman2006] for the prior of τ; [GelmanEtAl2013], 5.4 and 14, for the model.</para>
/// </remarks>
public sealed class SourcePosterior
{
    private const double HeatStep = 0.05, PriorReach = 8.5, Negligible = 1e-13, Kept = 1e-11;

    private readonly record struct Cell(double Weight, double Mean, double Sd);

    private readonly record struct Group(int Source, int Count, int Heats, double Mean, double SquaresAmong, double Hardness, double HardnessSquares);

    private readonly Group[] _groups;
    private readonly int _sources, _candidate, _reference, _within;
    private readonly double _squares, _priorScale;
    private readonly SlopeOnHardness? _slope;
    private readonly double[] _heatSd, _heatWeight;
    private readonly List<Cell> _cells = [];

    /// <summary>Computes the posterior.</summary>
    /// <param name="heats">All heats of the stratum.</param>
    /// <param name="sources">Number of sources.</param>
    /// <param name="candidate">The candidate's source.</param>
    /// <param name="reference">The reference's source.</param>
    /// <param name="slope">Slope to equal hardness, or null to compare as tested.</param>
    /// <param name="priorScale">Scale of the half-normal prior of τ, on the scale of z.</param>
    /// <exception cref="InsufficientDataException">No scatter within heats, or a source without a heat.</exception>
    public SourcePosterior(IReadOnlyList<SourceHeat> heats, int sources, int candidate, int reference, SlopeOnHardness? slope, double priorScale)
    {
        ArgumentNullException.ThrowIfNull(heats);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(priorScale);
        (_sources, _candidate, _reference, _priorScale) = (sources, candidate, reference, priorScale);
        _slope = slope;
        _within = heats.Sum(h => h.Count - 1);
        _squares = heats.Sum(h => h.SquaresWithin);
        if (_within < 1 || _squares <= 0) throw new InsufficientDataException("The posterior of two sources needs scatter within heats: a heat with at least two coupons that differ.");
        if (!heats.Any(h => h.Source == candidate) || !heats.Any(h => h.Source == reference)) throw new InsufficientDataException("The posterior of two sources needs at least one heat of each.");
        double middle = slope?.Bend?.AtHrc ?? heats.Average(h => h.MeanHardness);
        _groups = [.. heats.GroupBy(h => (h.Source, h.Count)).Select(g => Grouped([.. g], slope, middle)).OrderBy(g => g.Source)];

        double centre = 0.5 * Math.Log(_squares / _within), unit = Math.Min(Math.Exp(centre) / Math.Sqrt(heats.Max(h => h.Count)), priorScale);
        double[] at = [.. Enumerable.Range(0, (int)(Math.Asinh(PriorReach * priorScale / unit) / HeatStep) + 2).Select(j => j * HeatStep)];
        _heatSd = [.. at.Select(v => unit * Math.Sinh(v))];
        _heatWeight = new double[at.Length];
        double[] logMeasure = [.. at.Select((v, j) => Math.Log(Math.Cosh(v) * (j == 0 ? 0.5 : 1)) - 0.5 * Math.Pow(_heatSd[j] / priorScale, 2))];
        Integrate(centre, Math.Min(0.2, 0.7 / Math.Sqrt(2.0 * (_within + heats.Count))), logMeasure);
    }

    /// <summary>Posterior median of θ.</summary>
    public double Median => Quantile(0.5);

    /// <summary>Posterior probability that θ is at or below a value.</summary>
    public double Cdf(double value)
    {
        double sum = 0;
        foreach (Cell c in _cells) sum += c.Weight * Normal.Cdf((value - c.Mean) / c.Sd);
        return sum;
    }

    /// <summary>Posterior probability that θ lies inside the limits.</summary>
    public double Inside(double low, double high) => Cdf(high) - Cdf(low);

    /// <summary>Interval of θ with equal tails.</summary>
    public (double Lower, double Upper) Interval(double level) => (Quantile(0.5 - level / 2), Quantile(0.5 + level / 2));

    /// <summary>Posterior quantile of θ.</summary>
    public double Quantile(double p)
    {
        double centre = _cells.Sum(c => c.Weight * c.Mean), width = Math.Sqrt(_cells.Sum(c => c.Weight * (c.Sd * c.Sd + (c.Mean - centre) * (c.Mean - centre)))), reach = 4 * width;
        while (Cdf(centre - reach) > p || Cdf(centre + reach) < p) reach *= 2;
        return Brent.FindRoot(v => Cdf(v) - p, centre - reach, centre + reach, 1e-8 * width, 200);
    }

    /// <summary>Posterior quantile of τ, read off the grid.</summary>
    public double HeatSdQuantile(double p)
    {
        // Density at the grid's points; the first holds half a cell. Trapezoids between them, and a straight line inside one.
        double below = 0;
        for (int j = 1; j < _heatSd.Length; j++)
        {
            double piece = 0.5 * ((j == 1 ? 2 : 1) * _heatWeight[j - 1] + _heatWeight[j]);
            if (below + piece >= p) return _heatSd[j - 1] + (_heatSd[j] - _heatSd[j - 1]) * (p - below) / piece;
            below += piece;
        }
        return _heatSd[^1];
    }

    private static Group Grouped(SourceHeat[] heats, SlopeOnHardness? slope, double middle)
    {
        double[] q = [.. heats.Select(h => h.Mean - (slope?.Change(h.MeanHardness, middle) ?? 0))];
        double mean = q.Average();
        return new(heats[0].Source, heats[0].Count, heats.Length, mean, q.Sum(v => (v - mean) * (v - mean)), heats.Average(h => h.MeanHardness), heats.Average(h => (h.MeanHardness - middle) * (h.MeanHardness - middle)));
    }

    /// <summary>Rows of one ln σ, outwards from the centre until they no longer count; then the weights are scaled to 1.</summary>
    private void Integrate(double centre, double step, double[] logMeasure)
    {
        double top = double.NegativeInfinity;
        List<(Cell Cell, int Column)> all = [];
        double[] logs = new double[logMeasure.Length];
        foreach (int way in new[] { 1, -1 })
        {
            double before = double.NegativeInfinity;
            for (int k = way == 1 ? 0 : 1; ; k++)
            {
                Cell[] row = Row(centre + way * k * step, logMeasure, logs);
                double height = logs.Max();
                for (int j = 0; j < row.Length; j++)
                    if (logs[j] > Math.Max(top, height) + Math.Log(Negligible)) all.Add((row[j] with { Weight = logs[j] }, j));
                top = Math.Max(top, height);
                if (height < before && height < top + Math.Log(Negligible)) break;
                before = height;
            }
        }
        for (int i = 0; i < all.Count; i++) all[i] = (all[i].Cell with { Weight = Math.Exp(all[i].Cell.Weight - top) }, all[i].Column);
        double total = all.Sum(a => a.Cell.Weight), largest = all.Max(a => a.Cell.Weight);
        foreach ((Cell cell, int column) in all)
        {
            _heatWeight[column] += cell.Weight / total;
            if (cell.Weight > Kept * largest) _cells.Add(cell with { Weight = cell.Weight / total });
        }
    }

    private Cell[] Row(double logSigma, double[] logMeasure, double[] logs)
    {
        double sigma2 = Math.Exp(2 * logSigma), common = -_within * logSigma - 0.5 * _squares / sigma2;
        Cell[] cells = new Cell[logMeasure.Length];
        for (int j = 0; j < cells.Length; j++)
        {
            (double log, cells[j]) = Given(sigma2, _heatSd[j] * _heatSd[j]);
            logs[j] = common + logMeasure[j] + log;
        }
        return cells;
    }

    /// <summary>Logarithm of the heats' likelihood with the source means integrated out, and the normal of θ, given σ² and τ².</summary>
    private (double Log, Cell Cell) Given(double sigma2, double tau2)
    {
        double log = 0, mean = 0, variance = 0, hardness = 0, squares = 0;
        for (int i = 0, source = 0; source < _sources; source++)
        {
            int first = i;
            double weight = 0, sum = 0, sumHardness = 0, sumSquares = 0;
            for (; i < _groups.Length && _groups[i].Source == source; i++)
            {
                Group g = _groups[i];
                double w = 1 / (tau2 + sigma2 / g.Count);
                weight += g.Heats * w;
                sum += g.Heats * w * g.Mean;
                sumHardness += g.Heats * w * g.Hardness;
                sumSquares += g.Heats * w * g.HardnessSquares;
                log += 0.5 * (g.Heats * Math.Log(w) - w * g.SquaresAmong);
            }
            if (weight == 0) continue;
            double average = sum / weight;
            for (int k = first; k < i; k++) log -= 0.5 * _groups[k].Heats / (tau2 + sigma2 / _groups[k].Count) * Math.Pow(_groups[k].Mean - average, 2);
            log -= 0.5 * Math.Log(weight);
            int sign = source == _candidate ? 1 : source == _reference ? -1 : 0;
            if (sign == 0) continue;
            mean += sign * average;
            hardness += sign * sumHardness / weight;
            squares += sign * sumSquares / weight;
            variance += 1 / weight;
        }
        return (log, new(0, mean, Math.Sqrt(variance + (_slope?.Variance(hardness, squares) ?? 0))));
    }
}
