using Meltwise.Statistics.Resampling;

namespace Meltwise.Casework.Planning;

/// <summary>Estimate less truth, its variance estimate and degrees of freedom, as the verdict would compute them.</summary>
internal readonly record struct SimulatedEstimate(double Error, double Variance, double DegreesOfFreedom)
{
    /// <summary>Step 3 with one load: each lot's own variance.</summary>
    public static SimulatedEstimate AsTested(SimulatedCoupons c, int n, double candidateSd, double referenceSd)
    {
        double a = candidateSd * candidateSd * c.Squares(0, 0, n) / (n - 1) / n, b = referenceSd * referenceSd * c.Squares(1, 0, n) / (n - 1) / n;
        return new(candidateSd * c.Mean(0, 0, n) - referenceSd * c.Mean(1, 0, n), a + b, (a + b) * (a + b) * (n - 1) / (a * a + b * b));
    }

    /// <summary>Step 4: less slope times hardness difference; the parts of the slope and of the hardness readings are drawn as estimated.</summary>
    public static SimulatedEstimate AtEqualHardness(SimulatedEstimate asTested, PlannedTrend trend, in TrendDraw draw, int n)
    {
        double hardness = trend.HardnessDifference + draw.HardnessError * trend.HardnessSd * Math.Sqrt(2.0 / n);
        double slope = trend.Slope + draw.SlopeError * trend.SlopeStandardError;
        double slopePart = hardness * hardness * trend.SlopeStandardError * trend.SlopeStandardError * draw.SlopeChi;
        double readingPart = slope * slope * trend.HardnessSd * trend.HardnessSd * draw.HardnessChi * 2 / n;
        double variance = asTested.Variance + slopePart + readingPart;
        double spread = asTested.Variance * asTested.Variance / asTested.DegreesOfFreedom + slopePart * slopePart / trend.SlopeDf + readingPart * readingPart / trend.HardnessSdDf;

        // The truth at equal hardness is fixed, so the lots as tested differ from it by the true slope times the true hardness difference.
        double error = asTested.Error + trend.Slope * trend.HardnessDifference - slope * hardness;
        return new(error, variance, variance * variance / spread);
    }

    /// <summary>Step 5 without history: h heats of n coupons a side, restricted maximum likelihood in closed form; ν counts heats, never coupons.</summary>
    public static SimulatedEstimate BetweenSources(SimulatedCoupons c, int h, int n, double candidateSd, double referenceSd, double heatSd)
    {
        double between = 0, within = 0, error = 0;
        for (int side = 0; side < 2; side++)
        {
            double sd = side == 0 ? candidateSd : referenceSd, mean = 0, squares = 0;
            for (int i = 0; i < h; i++)
            {
                double q = heatSd * c.Heat(side, i) + sd * c.Mean(side, i, n), step = q - mean;
                mean += step / (i + 1);
                squares += step * (q - mean);
                within += sd * sd * c.Squares(side, i, n);
            }
            between += n * squares;
            error += side == 0 ? mean : -mean;
        }
        int betweenDf = 2 * (h - 1), withinDf = 2 * h * (n - 1);

        // A heat variance estimated as 0 pools the two mean squares; the degrees of freedom stay those of the heats.
        double level = withinDf > 0 && between / betweenDf < within / withinDf ? (between + within) / (betweenDf + withinDf) : between / betweenDf;
        return new(error, 2 * level / (n * h), betweenDf);
    }
}

/// <summary>Random numbers of one simulated trend.</summary>
internal readonly record struct TrendDraw(double SlopeError, double SlopeChi, double HardnessError, double HardnessChi)
{
    public static TrendDraw Of(ref RandomStream random, PlannedTrend trend) =>
        new(random.Normal(), random.ChiSquared(trend.SlopeDf) / trend.SlopeDf, random.Normal(), random.ChiSquared(trend.HardnessSdDf) / trend.HardnessSdDf);
}
