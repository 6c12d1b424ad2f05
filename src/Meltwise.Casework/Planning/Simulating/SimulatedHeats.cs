using Meltwise.Statistics.Resampling;

namespace Meltwise.Casework.Planning;

/// <summary>Old heats of the bench beside the new ones: step 5 with restricted maximum likelihood over all of them in every replicate.</summary>
/// <remarks>Heat means and the pooled square within heats carry all the information, so a replicate costs a few passes over the heats and none over coupons.</remarks>
internal sealed class SimulatedHeats
{
    private readonly PlannedHistory _history;
    private readonly double[] _mean, _size;
    private readonly int[] _source;
    private readonly int _old, _sources;
    private double _oldWithin;

    private SimulatedHeats(PlannedHistory history, int mostHeats)
    {
        _history = history;
        _old = history.ReferenceHeats + history.CandidateHeats + history.OtherHeats.Sum();
        _sources = 2 + history.OtherHeats.Count;
        int total = _old + 2 * mostHeats;
        (_mean, _size, _source) = (new double[total], new double[total], new int[total]);
        int at = 0;
        int[] counts = [history.CandidateHeats, history.ReferenceHeats, .. history.OtherHeats];
        for (int s = 0; s < counts.Length; s++)
            for (int i = 0; i < counts[s]; i++) (_source[at], _size[at++]) = (s, history.CouponsPerHeat);
    }

    public static SimulatedHeats? For(PlanRequest r) => r.History is { } h ? new(h, r.Heats.Max()) : null;

    /// <summary>Draws the old heats of a replicate.</summary>
    public void Draw(ref RandomStream random, double within, double heatSd)
    {
        double error = Math.Sqrt(heatSd * heatSd + within * within / _history.CouponsPerHeat);
        for (int i = 0; i < _old; i++) _mean[i] = error * random.Normal();
        int df = _old * (_history.CouponsPerHeat - 1);
        _oldWithin = df > 0 ? within * within * random.ChiSquared(df) : 0;
    }

    /// <summary>Candidate's source less reference's, with the old heats.</summary>
    /// <param name="newHeats">Heats of the enquiry.</param>
    public SimulatedEstimate Estimate(in SimulatedHeatMeans newHeats)
    {
        (int h, int n) = (newHeats.Heats, newHeats.Coupons);
        double squares = _oldWithin, df = _old * (_history.CouponsPerHeat - 1) + 2.0 * h * (n - 1);
        for (int i = 0; i < 2 * h; i++)
        {
            (_mean[_old + i], _size[_old + i], _source[_old + i]) = (newHeats.Mean[i], n, i < h ? 0 : 1);
            squares += newHeats.Squares[i];
        }
        int total = _old + 2 * h;
        HeatVariances v = new(_mean.AsSpan(0, total), _size.AsSpan(0, total), _source.AsSpan(0, total), _sources, squares, df);
        (double between, double within) = v.Maximise();

        // The lot that is its source's only heat keeps its own variance where that is above the common one.
        double Own(bool alone, double variance) => alone && variance > within ? variance : double.NaN;
        return v.Contrast(between, within, n - 1,
            Own(h == 1 && _history.CandidateHeats == 0, newHeats.Squares[0] / (n - 1)), Own(h == 1 && _history.ReferenceHeats == 0, newHeats.Squares[h] / (n - 1)));
    }
}

/// <summary>Means and squares within of the heats of an enquiry: the candidate's first, then the reference's.</summary>
internal readonly ref struct SimulatedHeatMeans(int heats, int coupons, ReadOnlySpan<double> mean, ReadOnlySpan<double> squares)
{
    public int Heats { get; } = heats;
    public int Coupons { get; } = coupons;
    public ReadOnlySpan<double> Mean { get; } = mean;
    public ReadOnlySpan<double> Squares { get; } = squares;

    /// <summary>These heats as tested: every heat of a side weighs the same and has its own variance.</summary>
    public SimulatedEstimate OfTheseHeats()
    {
        double estimate = 0, variance = 0, spread = 0;
        for (int i = 0; i < 2 * Heats; i++)
        {
            double part = Squares[i] / (Coupons - 1) / (Coupons * (double)Heats * Heats);
            estimate += (i < Heats ? Mean[i] : -Mean[i]) / Heats;
            variance += part;
            spread += part * part / (Coupons - 1);
        }
        return new(estimate, variance, spread);
    }

    /// <summary>Step 5 without history: h heats of n coupons a side, restricted maximum likelihood in closed form; ν counts heats, never coupons.</summary>
    public SimulatedEstimate WithoutHistory()
    {
        double between = 0, within = 0, error = 0;
        for (int side = 0; side < 2; side++)
        {
            double mean = 0, squares = 0;
            for (int i = 0; i < Heats; i++)
            {
                double q = Mean[side * Heats + i], step = q - mean;
                mean += step / (i + 1);
                squares += step * (q - mean);
                within += Squares[side * Heats + i];
            }
            between += Coupons * squares;
            error += side == 0 ? mean : -mean;
        }
        int betweenDf = 2 * (Heats - 1), withinDf = 2 * Heats * (Coupons - 1);

        // A heat variance estimated as 0 pools the two mean squares; the degrees of freedom stay those of the heats.
        double level = between / betweenDf < within / withinDf ? (between + within) / (betweenDf + withinDf) : between / betweenDf;
        double variance = 2 * level / (Coupons * Heats);
        return new(error, variance, variance * variance / betweenDf);
    }
}

/// <summary>Restricted maximum likelihood of heat means with sources fixed: heat variance and coupon variance.</summary>
internal readonly ref struct HeatVariances(Span<double> mean, Span<double> size, Span<int> source, int sources, double withinSquares, double withinDf)
{
    private readonly Span<double> _mean = mean, _size = size;
    private readonly Span<int> _source = source;

    /// <summary>Scoring with the expected information; the heat variance stops at 0.</summary>
    public (double Between, double Within) Maximise()
    {
        double within = withinDf > 0 ? withinSquares / withinDf : Spread(), between = Math.Max(0.1 * within, Spread() - within / _size[0]);
        for (int i = 0; i < 60; i++)
        {
            Information at = At(between, within);
            double determinant = at.Bb * at.Ww - at.Bw * at.Bw;
            double stepB = (at.Ww * at.ScoreB - at.Bw * at.ScoreW) / determinant, stepW = (at.Bb * at.ScoreW - at.Bw * at.ScoreB) / determinant;
            if (between + stepB <= 0)
            {
                stepB = -between;
                if (between == 0) stepW = at.ScoreW / at.Ww;
            }
            double nextW = Math.Max(0.1 * within, within + stepW), nextB = between + stepB;
            bool still = Math.Abs(nextB - between) < 1e-9 * within && Math.Abs(nextW - within) < 1e-9 * within;
            (between, within) = (nextB, nextW);
            if (still) break;
        }
        return (between, within);
    }

    /// <summary>Weighted source means, ν from the expected information also where the heat variance is 0.</summary>
    /// <param name="between">Heat variance.</param>
    /// <param name="within">Coupon variance.</param>
    /// <param name="ownDf">Degrees of freedom of a lot's own variance.</param>
    /// <param name="candidateOwn">Own variance of the candidate lot where it is its source's only heat and scatters more; NaN otherwise.</param>
    /// <param name="referenceOwn">The same of the reference lot.</param>
    public SimulatedEstimate Contrast(double between, double within, int ownDf, double candidateOwn, double referenceOwn)
    {
        Span<double> weight = stackalloc double[2], sum = stackalloc double[2], gb = stackalloc double[2], gw = stackalloc double[2], own = [candidateOwn, referenceOwn];
        weight.Clear();
        sum.Clear();
        gb.Clear();
        gw.Clear();
        double ownSpread = 0;
        for (int i = 0; i < _mean.Length; i++)
        {
            int s = _source[i];
            if (s > 1) continue;
            bool hasOwn = !double.IsNaN(own[s]);
            double v = (hasOwn ? own[s] : within) / _size[i], w = 1 / (between + v);
            weight[s] += w;
            sum[s] += w * _mean[i];
            gb[s] += w * w;
            if (hasOwn) ownSpread += 2 * v * v / ownDf;
            else gw[s] += w * w / _size[i];
        }
        double variance = 1 / weight[0] + 1 / weight[1];
        double b = gb[0] / (weight[0] * weight[0]) + gb[1] / (weight[1] * weight[1]), c = gw[0] / (weight[0] * weight[0]) + gw[1] / (weight[1] * weight[1]);
        Information at = At(between, within);
        double spread = (at.Ww * b * b - 2 * at.Bw * b * c + at.Bb * c * c) / (at.Bb * at.Ww - at.Bw * at.Bw) + ownSpread;
        double nu = Math.Max(1, 2 * variance * variance / spread);
        return new(sum[0] / weight[0] - sum[1] / weight[1], variance, variance * variance / nu);
    }

    private readonly record struct Information(double ScoreB, double ScoreW, double Bb, double Bw, double Ww);

    private Information At(double between, double within)
    {
        Span<double> w1 = stackalloc double[sources], wm = stackalloc double[sources], w2 = stackalloc double[sources], w2n = stackalloc double[sources];
        Span<double> w3 = stackalloc double[sources], w3n = stackalloc double[sources], w3nn = stackalloc double[sources];
        for (int i = 0; i < _mean.Length; i++)
        {
            double w = 1 / (between + within / _size[i]), u = 1 / _size[i];
            int s = _source[i];
            w1[s] += w;
            wm[s] += w * _mean[i];
            w2[s] += w * w;
            w2n[s] += w * w * u;
            w3[s] += w * w * w;
            w3n[s] += w * w * w * u;
            w3nn[s] += w * w * w * u * u;
        }
        double sb = 0, sw = 0, bb = 0, bw = 0, ww = 0;
        for (int i = 0; i < _mean.Length; i++)
        {
            double w = 1 / (between + within / _size[i]), u = 1 / _size[i], r = w * (_mean[i] - wm[_source[i]] / w1[_source[i]]);
            sb += r * r - w;
            sw += (r * r - w) * u;
            bb += w * w;
            bw += w * w * u;
            ww += w * w * u * u;
        }
        for (int s = 0; s < sources; s++)
        {
            if (w1[s] == 0) continue;
            double a = w2[s] / w1[s], b = w2n[s] / w1[s];
            sb += a;
            sw += b;
            bb += a * a - 2 * w3[s] / w1[s];
            bw += a * b - 2 * w3n[s] / w1[s];
            ww += b * b - 2 * w3nn[s] / w1[s];
        }
        sw += withinSquares / (within * within) - withinDf / within;
        ww += withinDf / (within * within);
        return new(0.5 * sb, 0.5 * sw, 0.5 * bb, 0.5 * bw, 0.5 * ww);
    }

    private double Spread()
    {
        double sum = 0, squares = 0;
        foreach (double m in _mean)
        {
            sum += m;
            squares += m * m;
        }
        return Math.Max(1e-12, (squares - sum * sum / _mean.Length) / (_mean.Length - 1));
    }
}
