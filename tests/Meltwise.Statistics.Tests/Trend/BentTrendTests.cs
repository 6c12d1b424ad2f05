using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Sources;
using Meltwise.Statistics.Trend;
using Xunit;

namespace Meltwise.Statistics.Tests.Trend;

/// <summary>Oracles/statistics/bent_trend.json (lme of nlme, and lme again on hardness replaced by its expectation given the reading), and laws of the curve.</summary>
public sealed class BentTrendTests
{
    private static TrendHeat[] Suppliers()
    {
        Table t = Table.MadeUp("madeup_suppliers_heats.csv");
        string[] heat = t.Text("heat"), supplier = t.Text("supplier");
        double[] z = [.. t.Numbers("energy_j").Select(v => Math.Log(v))], hrc = t.Numbers("hrc");
        return [.. Enumerable.Range(0, z.Length).GroupBy(i => heat[i]).Select(h =>
        {
            double mean = h.Average(i => z[i]), hardness = h.Average(i => hrc[i]);
            return new TrendHeat(supplier[h.First()] == "P" ? 0 : 1, hardness, h.Count(), [new(h.Count(), mean, h.Sum(i => (z[i] - mean) * (z[i] - mean)), hardness)]);
        })];
    }

    // nlme stops its search at about 7 digits of the variances.
    [Theory]
    [InlineData("uncorrected")]
    [InlineData("corrected")]
    public void Curve_agrees_with_nlme(string fit)
    {
        JsonElement all = Oracle.Read("bent_trend.json"), e = all.GetProperty(fit);
        bool corrected = fit == "corrected";
        HeatTrend line = HeatTrend.Fit(Suppliers(), 2, new(corrected ? all.Number("withinHeatVariance") : 0, all.Number("withinHeatDf"), 0))!;
        BentTrend curve = line.Bent!;
        double lambda = corrected ? all.Number("lambda") : 1, ofLambda = corrected ? all.Number("varianceOfLambda") / (lambda * lambda) : 0, b = e.Number("slope"), c = e.Number("bend");
        Digits.Agree(lambda, line.Attenuation, new(5), "reliability");
        Digits.Agree(all.Number("centre"), curve.Centre, new(8), "centre");
        Assert.Equal(7, curve.DegreesOfFreedom);
        Digits.Agree(b, curve.AtCentre.Slope, new(5), "slope at the centre");
        Digits.Agree(c, curve.AtCentre.Bend!.PerHrcSquared, new(5), "bend");
        // To what lme gives for a known reliability comes the error of the reliability itself: b goes as 1/λ, c as 1/λ².
        Digits.Agree(e.Number("slopeVariance") + b * b * ofLambda, curve.AtCentre.StandardError * curve.AtCentre.StandardError, new(5), "variance of the slope");
        Digits.Agree(e.Number("bendVariance") + 4 * c * c * ofLambda, curve.AtCentre.Bend.Variance, new(5), "variance of the bend");
        Digits.Agree(e.Number("covariance") + 2 * b * c * ofLambda, curve.AtCentre.Bend.CovarianceWithSlope, new(5), "covariance");
        Digits.Agree(e.Number("heatVariance"), curve.HeatVariance, new(5), "τ²");
        Digits.Agree(e.Number("residualVariance"), curve.ResidualVariance, new(5), "σ²");
    }

    // Two points of a parabola about M differ by the tangent at M times their distance, whatever the distance.
    [Theory]
    [InlineData(59.0, 0.4)]
    [InlineData(61.7, 3.0)]
    public void Tangent_joins_two_points_of_the_curve(double middle, double distance)
    {
        BentTrend curve = HeatTrend.Fit(Suppliers(), 2, new(0.09, 40, 0))!.Bent!;
        Assert.Equal(curve.At(middle + distance / 2) - curve.At(middle - distance / 2), curve.TangentAt(middle).Slope * distance, 1e-12);
    }

    // Heats exactly on a curve with sources 0.3 apart: the contrast of the sources finds the 0.3 however their hardness lies, and the slope's variance is that of b·D + c·D₂.
    [Fact]
    public void Sources_on_a_curve_are_compared_along_it()
    {
        SlopeOnHardness slope = new(-0.1, 0.02, 20, new(61, -0.03, 0.0001, 0.0004));
        double[] p = [59.2, 60.1, 60.7], q = [61.9, 62.4];
        SourceHeat Heat(int source, double x) => new(source, false, 4, 3 + (source == 0 ? 0.3 : 0) + slope.Change(x, 61), 0.01, x);
        SourceContrast contrast = SourceContrast.Fit([.. p.Select(x => Heat(0, x)), .. q.Select(x => Heat(1, x)), .. new[] { 58.5, 62.9 }.Select(x => Heat(0, x))], 2, 0, 1, slope)!;
        double[] all = [.. p, 58.5, 62.9];
        double d = all.Average() - q.Average(), squares = all.Average(x => (x - 61) * (x - 61)) - q.Average(x => (x - 61) * (x - 61));
        Assert.Equal(0.3, contrast.Estimate.Estimate, 1e-9);
        Assert.Equal(d * d * 0.0004 + 2 * d * squares * 0.0004 + squares * squares * 0.0001, contrast.VarianceFromSlope, 1e-12);
    }

    [Fact]
    public void Lots_far_off_or_a_bend_that_shows_call_for_the_curve()
    {
        List<TrendHeat> straight = [.. Enumerable.Range(0, 16).Select(i => new TrendHeat(0, 60 + 0.25 * i, 4, [new(4, 3.7 - 0.09 * (0.25 * i) + 0.02 * Math.Sin(5.0 * i), 0.03, 60 + 0.25 * i)]))];
        List<TrendHeat> bent = [.. straight.Select(h => h with { Groups = [h.Groups[0] with { Mean = h.Groups[0].Mean - 0.1 * Math.Pow(h.MeanHardness - 62, 2) }] })];
        HeatTrend line = HeatTrend.Fit(straight, 1, new(0.04, 40, 0))!;
        Assert.False(BentTrend.Serves(line, 61.9));
        Assert.True(BentTrend.Serves(line, 63));
        Assert.True(BentTrend.Serves(line, 60.5));
        Assert.True(BentTrend.Serves(HeatTrend.Fit(bent, 1, new(0.04, 40, 0))!, 61.9));
    }

    [Fact]
    public void Too_few_heats_leave_the_straight_line()
    {
        TrendHeat[] few = [.. Suppliers().Take(8)];
        HeatTrend line = HeatTrend.Fit(few, 1, new(0.09, 40, 0))!;
        Assert.Null(line.Bent);
        Assert.False(BentTrend.Serves(line, 70));
    }
}
