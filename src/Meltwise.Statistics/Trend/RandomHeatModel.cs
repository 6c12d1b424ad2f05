namespace Meltwise.Statistics.Trend;

/// <summary>Coupons of one heat that share their covariates.</summary>
/// <param name="Heat">Heat, 0 to count − 1.</param>
/// <param name="Count">Coupons n.</param>
/// <param name="Mean">Mean of z.</param>
/// <param name="SquaresWithin">Σ(z − mean)².</param>
/// <param name="Covariates">Row of the design.</param>
public readonly record struct HeatGroup(int Heat, int Count, double Mean, double SquaresWithin, double[] Covariates);

/// <summary>z = Xβ + u_heat + e by restricted maximum likelihood, from group means: work grows with the heats, not with the coupons.</summary>
/// <remarks>
/// <para><b>Model.</b> u ~ N(0, τ²) of a heat, e ~ N(0, σ²) of a coupon, covariates constant within a group of coupons of one heat.</para>
/// <para><b>Computation.</b> With γ = τ²/σ² the restricted likelihood is profiled over β and σ²; its score in γ, −½[tr(Z'PZ) − r'H⁻¹ZZ'H⁻¹r/σ̂²], is brought to 0 by bisection and secant on ln(1 + γ).
/// When the score is not positive at γ = 0 the estimate is τ² = 0.</para>
/// <para><b>Information.</b> Expected restricted information ½[tr(PZZ'PZZ'), tr(PZZ'P); ·, tr(PP)] of (τ², σ²), inverted without regard to the bound at τ² = 0.</para>
/// <para><b>Limits.</b> More coupons than columns, more heats than columns that vary among heats; normal u and e.</para>
/// <para><b>Source.</b> [PattersonThompson1971]; [SearleCasellaMcCulloch1992] for the information.</para>
/// </remarks>
public sealed class RandomHeatModel
{
    private readonly double[] _coefficients;
    private readonly SymmetricMatrix _covariance;

    private RandomHeatModel(double heatVariance, double residualVariance, double[] coefficients, SymmetricMatrix covariance, int residualDf, (double Heat, double Residual, double Both) information)
    {
        HeatVariance = heatVariance;
        ResidualVariance = residualVariance;
        _coefficients = coefficients;
        _covariance = covariance;
        ResidualDf = residualDf;
        double determinant = information.Heat * information.Residual - information.Both * information.Both;
        VarianceOfHeatVariance = information.Residual / determinant;
        VarianceOfResidualVariance = information.Heat / determinant;
        CovarianceOfVariances = -information.Both / determinant;
    }

    /// <summary>τ².</summary>
    public double HeatVariance { get; }

    /// <summary>σ².</summary>
    public double ResidualVariance { get; }

    /// <summary>Coupons less heats.</summary>
    public int ResidualDf { get; }

    /// <summary>Variance of the estimate of τ².</summary>
    public double VarianceOfHeatVariance { get; }

    /// <summary>Variance of the estimate of σ².</summary>
    public double VarianceOfResidualVariance { get; }

    /// <summary>Covariance of both estimates.</summary>
    public double CovarianceOfVariances { get; }

    /// <summary>Fixed effect of a column.</summary>
    public double Coefficient(int column) => _coefficients[column];

    /// <summary>Standard error of a fixed effect, variances taken as known.</summary>
    public double StandardError(int column) => Math.Sqrt(_covariance[column, column]);

    /// <summary>Covariance of two fixed effects.</summary>
    public double Covariance(int a, int b) => _covariance[a, b];

    /// <summary>Variance of a difference of two fixed effects.</summary>
    public double VarianceOfDifference(int a, int b) => _covariance[a, a] + _covariance[b, b] - 2 * _covariance[a, b];

    /// <summary>Fits the model, or gives null when the columns are not independent or nothing is left for the variances.</summary>
    /// <param name="groups">Groups of coupons.</param>
    /// <param name="heats">Number of heats.</param>
    public static RandomHeatModel? Fit(IReadOnlyList<HeatGroup> groups, int heats)
    {
        Fitting fit = new(groups, heats);
        if (fit.Coupons <= fit.Columns || !fit.Solve(0)) return null;
        double ratio = fit.Score > 0 ? Root(fit) : 0;
        if (!fit.Solve(ratio)) return null;
        return new(ratio * fit.ResidualVariance, fit.ResidualVariance, fit.Coefficients, fit.Covariance(), fit.Coupons - heats, fit.Information());
    }

    /// <summary>Root of the score on s = ln(1 + γ), bracketed by doubling, then by the Illinois form of false position.</summary>
    private static double Root(Fitting fit)
    {
        double ScoreAt(double s)
        {
            fit.Solve(Math.Exp(s) - 1);
            return fit.Score;
        }

        double low = 0, atLow = fit.Score, high = 0.1, atHigh = ScoreAt(high);
        while (atHigh > 0 && high < 16) (low, atLow, high, atHigh) = (high, atHigh, 2 * high, ScoreAt(2 * high));
        if (atHigh > 0) return Math.Exp(high) - 1;
        for (int i = 0; i < 200 && high - low > 1e-14 * (1 + high); i++)
        {
            double s = (atHigh * low - atLow * high) / (atHigh - atLow);
            if (!(s > low && s < high) || i % 4 == 3) s = 0.5 * (low + high);
            double at = ScoreAt(s);
            if (at == 0) return Math.Exp(s) - 1;
            if (at > 0) (low, atLow, atHigh) = (s, at, atHigh / 2);
            else (high, atHigh, atLow) = (s, at, atLow / 2);
        }
        return Math.Exp(0.5 * (low + high)) - 1;
    }

    /// <summary>Sums over heats and the solution at one γ.</summary>
    private sealed class Fitting
    {
        private readonly IReadOnlyList<HeatGroup> _groups;
        private readonly int[] _count;
        private readonly double[][] _total;
        private readonly double[] _totalZ;
        private readonly SymmetricMatrix _plain;
        private readonly double[] _plainZ;
        private readonly double _squaresWithin;
        private double _ratio;
        private SymmetricMatrix _inverse;

        public Fitting(IReadOnlyList<HeatGroup> groups, int heats)
        {
            _groups = groups;
            Columns = groups[0].Covariates.Length;
            _count = new int[heats];
            _totalZ = new double[heats];
            _total = [.. Enumerable.Range(0, heats).Select(_ => new double[Columns])];
            _plain = new(Columns);
            _plainZ = new double[Columns];
            Coefficients = new double[Columns];
            _inverse = _plain;
            foreach (HeatGroup g in groups)
            {
                _count[g.Heat] += g.Count;
                _totalZ[g.Heat] += g.Count * g.Mean;
                _squaresWithin += g.SquaresWithin;
                _plain.AddOuter(g.Covariates, g.Count);
                for (int j = 0; j < Columns; j++)
                {
                    _total[g.Heat][j] += g.Count * g.Covariates[j];
                    _plainZ[j] += g.Count * g.Covariates[j] * g.Mean;
                }
            }
            Coupons = _count.Sum();
        }

        public int Columns { get; }

        public int Coupons { get; }

        public double[] Coefficients { get; private set; }

        public double ResidualVariance { get; private set; }

        /// <summary>Score of the profiled restricted likelihood in γ, up to the factor ½.</summary>
        public double Score { get; private set; }

        public bool Solve(double ratio)
        {
            _ratio = ratio;
            SymmetricMatrix normal = new(Columns);
            double[] right = [.. _plainZ];
            for (int i = 0; i < Columns; i++) for (int j = 0; j < Columns; j++) normal[i, j] = _plain[i, j];
            for (int h = 0; h < _count.Length; h++)
            {
                double shrink = ratio / (1 + ratio * _count[h]);
                if (shrink == 0) continue;
                normal.AddOuter(_total[h], -shrink);
                for (int j = 0; j < Columns; j++) right[j] -= shrink * _total[h][j] * _totalZ[h];
            }
            if (normal.Inverse() is not { } inverse) return false;
            _inverse = inverse;
            Coefficients = inverse.Times(right);
            Measure();
            return true;
        }

        private void Measure()
        {
            double squares = _squaresWithin;
            double[] residual = new double[_count.Length];
            foreach (HeatGroup g in _groups)
            {
                double r = g.Mean;
                for (int j = 0; j < Columns; j++) r -= Coefficients[j] * g.Covariates[j];
                squares += g.Count * r * r;
                residual[g.Heat] += g.Count * r;
            }
            double trace = 0, pull = 0;
            for (int h = 0; h < _count.Length; h++)
            {
                double d = 1 + _ratio * _count[h];
                squares -= _ratio / d * residual[h] * residual[h];
                pull += residual[h] * residual[h] / (d * d);
                trace += _count[h] / d - _inverse.Form(_total[h], _total[h]) / (d * d);
            }
            ResidualVariance = squares / (Coupons - Columns);
            Score = pull / ResidualVariance - trace;
        }

        public SymmetricMatrix Covariance()
        {
            SymmetricMatrix scaled = new(Columns);
            for (int i = 0; i < Columns; i++) for (int j = 0; j < Columns; j++) scaled[i, j] = ResidualVariance * _inverse[i, j];
            return scaled;
        }

        /// <summary>Expected restricted information of (τ², σ²); V acts as 1/σ² within a heat and as 1/(σ² + nτ²) on its mean.</summary>
        public (double Heat, double Residual, double Both) Information()
        {
            double s2 = ResidualVariance, t2 = _ratio * s2;
            SymmetricMatrix a = Covariance(), between = new(Columns), square = Powers(2), cube = Powers(3);
            double heat = 0, residual = 0, both = 0;
            for (int h = 0; h < _count.Length; h++)
            {
                int n = _count[h];
                double d = s2 + n * t2, form = a.Form(_total[h], _total[h]);
                between.AddOuter(_total[h], 1 / (d * d));
                heat += n / d * (n / d) - 2 * (n / d) * form / (d * d);
                both += n / (d * d) - 2 * form / (d * d * d);
                residual += (n - 1) / (s2 * s2) + 1 / (d * d);
            }
            heat += a.Sandwich(between).TraceOfProduct(between);
            both += a.Sandwich(square).TraceOfProduct(between);
            residual += a.Sandwich(square).TraceOfProduct(square) - 2 * a.TraceOfProduct(cube);
            return (heat / 2, residual / 2, both / 2);
        }

        /// <summary>X'V⁻ᵏX.</summary>
        private SymmetricMatrix Powers(int k)
        {
            double s2 = ResidualVariance, t2 = _ratio * s2;
            SymmetricMatrix sum = new(Columns);
            foreach (HeatGroup g in _groups) sum.AddOuter(g.Covariates, g.Count / Math.Pow(s2, k));
            for (int h = 0; h < _count.Length; h++)
                sum.AddOuter(_total[h], (1 / Math.Pow(s2 + _count[h] * t2, k) - 1 / Math.Pow(s2, k)) / _count[h]);
            return sum;
        }
    }
}
