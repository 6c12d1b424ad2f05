using Meltwise.Statistics.Censored;
using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Equivalence;
using Meltwise.Statistics.Interlaboratory;
using Meltwise.Statistics.LeastSquares;
using Meltwise.Statistics.MixedModels;
using Meltwise.Statistics.Outliers;
using Meltwise.Statistics.ScatterLaw;
using Meltwise.Statistics.Sources;
using Meltwise.Statistics.Tests.Outliers;
using Meltwise.Statistics.Trend;

namespace Meltwise.Statistics.Tests;

/// <summary>Worked examples of the verdict's own methods, for <see cref="DocumentedExamplesTests"/>.</summary>
internal static class DocumentedVerdictExamples
{
    public static readonly string[] Pages = ["LotComparison", "EquivalencePower", "HeatTrend", "SourceContrast", "ScatterLaw", "Outliers", "CensoredNormal", "PrecisionStudy", "UnequalScatterModel"];

    public static (string What, double Value, string Format)[] Of(string page, double[] a, double[] b) => page switch
    {
        "LotComparison" => Lots(a, b),
        "EquivalencePower" => Power(),
        "HeatTrend" => Trend(),
        "SourceContrast" => Sources(),
        "ScatterLaw" => Law(),
        "Outliers" => Suspects(),
        "CensoredNormal" => Bounds(),
        "PrecisionStudy" => Precision(),
        _ => Unequal(),
    };

    private static (string, double, string)[] Lots(double[] a, double[] b)
    {
        double[] za = [.. a.Select(v => Math.Log(v))], zb = [.. b.Select(v => Math.Log(v))];
        ContrastEstimate e = WithinLoadContrast.Fit([.. zb, .. za], [.. b.Select(_ => true), .. a.Select(_ => false)], new int[a.Length + b.Length], 1)!.Own;
        double va = Univariate.Of(za).StandardDeviation, vb = Univariate.Of(zb).StandardDeviation;
        ScatterRatio scatter = ScatterRatio.Of(vb * vb / (va * va), b.Length - 1, a.Length - 1);
        return [("ratio B over A", Math.Exp(e.Estimate), "F4"), ("degrees of freedom", e.DegreesOfFreedom, "F3"), ("p of no difference", e.PDifference, "F4"), ("p of agreement", e.PEquivalence(Math.Log(0.8), Math.Log(1.25)), "F4"),
            ("lower narrow limit", Math.Exp(e.Interval(0.90).Lower), "F4"), ("upper narrow limit", Math.Exp(e.Interval(0.90).Upper), "F4"), ("ratio of scatters", scatter.Ratio, "F3")];
    }

    private static (string, double, string)[] Power()
    {
        double sigma = Math.Sqrt(Math.Log(1 + 0.15 * 0.15));
        double Of(int n) => EquivalencePower.Of(sigma * Math.Sqrt(2.0 / n), 2 * n - 2, 0, Math.Log(0.8), Math.Log(1.25), 0.05);
        return [("chance of agreement with 6 coupons a lot", Of(6), "F4"), ("coupons a lot for a chance of 0.8", EquivalencePower.SmallestNumber(Of, 0.8, 200)!.Value, "F0")];
    }

    private static (string, double, string)[] Trend()
    {
        Table t = Table.MadeUp("madeup_suppliers_heats.csv");
        string[] heat = t.Text("heat"), supplier = t.Text("supplier");
        double[] z = [.. t.Numbers("energy_j").Select(v => Math.Log(v))], hrc = t.Numbers("hrc");
        TrendHeat[] heats = [.. Enumerable.Range(0, z.Length).GroupBy(i => heat[i]).Select(h =>
        {
            double mean = h.Average(i => z[i]), hardness = h.Average(i => hrc[i]);
            return new TrendHeat(supplier[h.First()] == "P" ? 0 : 1, hardness, h.Count(), [new(h.Count(), mean, h.Sum(i => (z[i] - mean) * (z[i] - mean)), hardness)]);
        })];
        HeatTrend trend = HeatTrend.Fit(heats, 2, new(0.09, 40, 0))!;
        return [("heats", trend.Heats, "F0"), ("slope of ln energy per HRC", trend.Slope, "F4"), ("its standard error", trend.SlopeSe, "F4"), ("reliability of the hardness", trend.Attenuation, "F3"), ("degrees of freedom", trend.DegreesOfFreedom, "F0"),
            ("tangent of the bent trend at 61 HRC", trend.Bent!.TangentAt(61).Slope, "F4"), ("standard error of the tangent", trend.Bent.TangentAt(61).StandardError, "F4")];
    }

    private static (string, double, string)[] Sources()
    {
        Table t = Table.MadeUp("madeup_balanced_heats.csv");
        string[] heat = t.Text("heat"), supplier = t.Text("supplier");
        double[] y = t.Numbers("energy_j");
        SourceHeat[] heats = [.. Enumerable.Range(0, y.Length).GroupBy(i => heat[i]).Select(h =>
        {
            double mean = h.Average(i => y[i]);
            return new SourceHeat(supplier[h.First()] == "Q" ? 0 : 1, true, h.Count(), mean, h.Sum(i => (y[i] - mean) * (y[i] - mean)), 0);
        })];
        SourceContrast c = SourceContrast.Fit(heats, 2, 0, 1, null)!;
        return [("Q less P, J", c.Estimate.Estimate, "F2"), ("standard error, J", c.Estimate.StandardError, "F2"), ("degrees of freedom", c.Estimate.DegreesOfFreedom, "F1"), ("p", c.Estimate.PDifference, "F3")];
    }

    private static (string, double, string)[] Law()
    {
        Table t = Table.MadeUp("madeup_mean_dependent_scatter.csv");
        double[] y = t.Numbers("energy_j");
        GammaVarianceLaw law = GammaVarianceLaw.Fit([.. Enumerable.Range(0, y.Length).GroupBy(i => t.Text("heat")[i] + t.Text("condition")[i]).Select(g =>
        {
            (double mean, double sd, _) = Univariate.Of([.. g.Select(i => Math.Log(y[i]))]);
            return new ScatterGroup(mean, sd * sd, g.Count() - 1);
        })])!;
        return [("exponent", law.Exponent, "F2"), ("lower limit", law.Interval!.Value.Lower, "F2"), ("upper limit", law.Interval!.Value.Upper, "F2"), ("scatter of logarithms at 60 J", Math.Sqrt(law.VarianceAt(Math.Log(60))), "F3")];
    }

    private static (string, double, string)[] Suspects()
    {
        OutlierFinding finding = Grubbs.Test(GrubbsTests.Example("grubbs").Numbers("data"))!.Value;
        return [("statistic", finding.Statistic, "F4"), ("critical value, two-sided 5 %", finding.CriticalValue, "F4")];
    }

    private static (string, double, string)[] Bounds()
    {
        double[] energy = [41, 47, 52, 55, 58, 60];
        CensoredNormal fit = CensoredNormal.Fit([.. energy.Select(v => Math.Log(v))], [Bound.None, Bound.None, Bound.None, Bound.None, Bound.None, Bound.Above]);
        return [("geometric mean, J", Math.Exp(fit.Mean), "F2"), ("standard error of its logarithm", Math.Sqrt(fit.MeanVariance), "F4"), ("degrees of freedom", fit.DegreesOfFreedom, "F0")];
    }

    private static (string, double, string)[] Precision()
    {
        Table t = Table.Published("e691_glucose.csv");
        string[] columns = [.. t.Columns];
        string laboratory = columns.First(c => c.StartsWith("Lab", StringComparison.OrdinalIgnoreCase));
        double[] y = t.Numbers("Glucose");
        PrecisionResult r = PrecisionStudy.Of([.. Enumerable.Range(0, y.Length).Where(i => t.Text("Material")[i] == "A").GroupBy(i => t.Text(laboratory)[i]).Select(g => (IReadOnlyList<double>)[.. g.Select(i => y[i])])]);
        return [("mean", r.Mean, "F3"), ("repeatability", r.Repeatability, "F3"), ("reproducibility", r.Reproducibility, "F3")];
    }

    private static (string, double, string)[] Unequal()
    {
        Table t = Table.Published("bodyweight.csv");
        double[] time = t.Numbers("Time"), one = [.. time.Select(_ => 1.0)], diet2 = t.Is("Diet", "2"), diet3 = t.Is("Diet", "3");
        double[][] columns = [one, time, diet2, diet3, [.. time.Zip(diet2, (x, d) => x * d)], [.. time.Zip(diet3, (x, d) => x * d)]];
        UnequalScatterFit fit = UnequalScatterModel.Fit(t.Numbers("weight"), columns, ["mean", "growth", "diet 2", "diet 3", "growth 2", "growth 3"], [new(RandomTerm.Of("rat", t.Text("Rat")), [one, time])], new ScatterModel.PowerOfMean());
        MixedContrast growth = fit.Coefficient(4);
        return [("exponent of the scatter", fit.ScatterParameters[0].Estimate, "F2"), ("growth on diet 2 less diet 1, g a day", growth.Estimate, "F3"), ("its standard error", growth.StandardError, "F3"), ("degrees of freedom", growth.DegreesOfFreedom, "F1")];
    }
}
