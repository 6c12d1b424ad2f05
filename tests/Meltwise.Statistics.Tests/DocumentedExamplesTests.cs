using System.Globalization;
using Meltwise.Evidence;
using Meltwise.Statistics.Bayesian;
using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.ErrorsInVariables;
using Meltwise.Statistics.Extremes;
using Meltwise.Statistics.LeastSquares;
using Meltwise.Statistics.MetaAnalysis;
using Meltwise.Statistics.MixedModels;
using Meltwise.Statistics.Multiplicity;
using Meltwise.Statistics.OneWay;
using Meltwise.Statistics.Paired;
using Meltwise.Statistics.Resampling;
using Meltwise.Statistics.Robust;
using Meltwise.Statistics.Studies;
using Meltwise.Statistics.Tolerance;
using Meltwise.Statistics.Uncertainty;
using Xunit;

namespace Meltwise.Statistics.Tests;

/// <summary>The numbers of the worked examples in docs/methods are computed here; a page that says otherwise fails.</summary>
public sealed class DocumentedExamplesTests
{
    private static readonly double[] s_a = [18.2, 21.0, 19.4, 23.1, 20.3, 22.0], s_b = [16.9, 19.8, 18.0, 20.6, 17.4, 21.5];

    public static TheoryData<string> Pages => ["NoncentralT", "MultivariateT", "LinearMixedModel", "ScatterTrendRegression", "RandomEffectsMean", "NormalTolerance", "Bootstrap",
        "YorkLine", "GumbelLargest", "WeibullStrength", "UncertaintyBudget", "Conformity", "PairwiseIntervals", "TreatmentStudy", "LinearRegression", "PairedComparison",
        "RobustLocation", "RatioPosterior", "SourcePosterior", "Holm", "FiellerRatio", .. DocumentedVerdictExamples.Pages];

    [Theory]
    [MemberData(nameof(Pages))]
    public void Worked_example_holds(string page)
    {
        string text = File.ReadAllText(Path.Combine(Repository.Root, "docs", "methods", page + ".md"));
        string[] missing = [.. Example(page).Select(e => $"- {e.What}: {e.Value.ToString(e.Format, CultureInfo.InvariantCulture)}").Where(line => !text.Contains(line, StringComparison.Ordinal))];
        Assert.True(missing.Length == 0, $"docs/methods/{page}.md lacks:{Environment.NewLine}{string.Join(Environment.NewLine, missing)}");
    }

    /// <summary>A method is a file whose documentation names its source; tails, searches and linear algebra that only serve others are internal and stand on the page of what they serve.</summary>
    [Fact]
    public void Every_method_has_a_page()
    {
        string[] pages = [.. Directory.EnumerateFiles(Path.Combine(Repository.Root, "docs", "methods"), "*.md").SelectMany(File.ReadLines).Where(l => l.StartsWith("Types:", StringComparison.Ordinal))];
        string[] methods = [.. typeof(Assembly).Assembly.GetExportedTypes().Where(t => !t.IsNested && File.Exists(FileOf(t)) && File.ReadAllText(FileOf(t)).Contains("<b>Source.</b>", StringComparison.Ordinal)).Select(t => t.Name.Split('`')[0])];
        Assert.True(methods.Length > 50, $"Only {methods.Length} methods were found; the search is broken.");
        Assert.DoesNotContain(methods, m => !pages.Any(p => p.Contains($"`{m}`", StringComparison.Ordinal)));
    }

    private static string FileOf(Type type) => Path.Combine([Repository.Root, "src", "Meltwise.Statistics", .. type.Namespace!.Split('.').Skip(2), type.Name + ".cs"]);

    private static (string What, double Value, string Format)[] Example(string page) => page switch
    {
        "NoncentralT" => [("critical t at 16 degrees of freedom", StudentT.Quantile(0.975, 16), "F4"), ("chance of a significant t at δ = 3", NoncentralT.UpperTail(StudentT.Quantile(0.975, 16), 16, 3), "F4")],
        "MultivariateT" => [("critical value for three groups against a control", MultivariateT.TwoSidedCritical(0.05, new[,] { { 1, 0.5, 0.5 }, { 0.5, 1, 0.5 }, { 0.5, 0.5, 1 } }, 20), "F4"), ("t of one comparison alone", StudentT.Quantile(0.975, 20), "F4")],
        "LinearMixedModel" => Mixed(),
        "ScatterTrendRegression" => ScatterTrendExample(),
        "RandomEffectsMean" => Meta(),
        "NormalTolerance" => [("one-sided factor, 6 coupons, 95 % of coupons with 95 % confidence", NormalTolerance.OneSided(6, 0.95, 0.95), "F3"), ("lower limit of lot A", Math.Exp(LogMean(s_a) - NormalTolerance.OneSided(6, 0.95, 0.95) * LogSd(s_a)), "F2"), ("lower limit of lot B", Math.Exp(LogMean(s_b) - NormalTolerance.OneSided(6, 0.95, 0.95) * LogSd(s_b)), "F2")],
        "Bootstrap" => BootstrapExample(),
        "YorkLine" => York(),
        "GumbelLargest" => Gumbel(),
        "WeibullStrength" => Weibull(),
        "UncertaintyBudget" => Budget(),
        "Conformity" => [("guard band at 5 % risk", Conformity.GuardBand(0.015, 0.05), "F4"), ("upper acceptance limit", 1.60 - Conformity.GuardBand(0.015, 0.05), "F4"), ("probability of conformity at 1.59", Conformity.Probability(1.59, 0.015, 1.40, 1.60), "F3")],
        "PairwiseIntervals" => Pairs(),
        "TreatmentStudy" => Study(),
        "LinearRegression" => Regression(),
        "PairedComparison" => Paired(),
        "RobustLocation" => [("median of lot A", RobustLocation.Median(s_a), "F2"), ("MAD of lot A", RobustLocation.Mad(s_a), "F3"), ("Huber's location of lot A", RobustLocation.HuberProposal2(s_a).Location, "F3")],
        "RatioPosterior" => Posterior(),
        "SourcePosterior" => PosteriorOfSources(),
        "Holm" => [("adjusted p of 0.012 among 0.012, 0.03 and 0.20", Holm.Adjust([0.012, 0.03, 0.20])[0], "F3"), ("adjusted p of 0.03", Holm.Adjust([0.012, 0.03, 0.20])[1], "F3")],
        _ when DocumentedVerdictExamples.Pages.Contains(page) => DocumentedVerdictExamples.Of(page, s_a, s_b),
        _ => [("ratio of means B over A", FiellerRatio.Of(s_b, s_a).Ratio, "F4"), ("lower limit", FiellerRatio.Of(s_b, s_a).Lower, "F4"), ("upper limit", FiellerRatio.Of(s_b, s_a).Upper, "F4")],
    };

    private static double LogMean(double[] x) => x.Average(v => Math.Log(v));

    private static double LogSd(double[] x) => Univariate.Of([.. x.Select(v => Math.Log(v))]).StandardDeviation;

    private static (string, double, string)[] Mixed()
    {
        Table t = Table.Published("rail.csv");
        double[] y = t.Numbers("travel");
        MixedFit fit = LinearMixedModel.Fit(y, [[.. y.Select(_ => 1.0)]], ["mean"], [RandomTerm.Of("rail", t.Text("Rail"))]);
        MixedContrast mean = fit.Coefficient(0);
        return [("mean", mean.Estimate, "F1"), ("standard error", mean.StandardError, "F3"), ("degrees of freedom", mean.DegreesOfFreedom, "F1"), ("standard deviation between rails", fit.Components[0].StandardDeviation, "F3"), ("standard deviation within a rail", fit.Components[1].StandardDeviation, "F3")];
    }

    private static (string, double, string)[] ScatterTrendExample()
    {
        Table t = Table.MadeUp("madeup_mean_dependent_scatter.csv");
        double[] y = t.Numbers("energy_j");
        ScatterTrendFit fit = ScatterTrendRegression.Fit(y, [[.. y.Select(_ => 1.0)], t.Is("heat", "B"), t.Is("condition", "T400"), t.Is("condition", "T500")], ["mean", "B", "T400", "T500"]);
        return [("exponent", fit.Exponent, "F2"), ("standard error of the exponent", fit.ExponentStandardError, "F2")];
    }

    private static (string, double, string)[] Meta()
    {
        Table t = Table.MadeUp("madeup_comparisons.csv");
        double[] y = t.Numbers("log_ratio"), se = t.Numbers("se");
        RandomEffectsResult r = RandomEffectsMean.Fit(y, [.. se.Select(s => s * s)]);
        double[,] variances = new double[y.Length, y.Length];
        for (int i = 0; i < y.Length; i++) variances[i, i] = se[i] * se[i];
        (double Lower, double Upper) next = CorrelatedEffectsMean.Fit(y, variances).Prediction(0.95);
        return [("mean of ln(C/R)", r.Mean, "F4"), ("spread τ", Math.Sqrt(r.TauSquared), "F4"), ("lower limit for the next comparison", next.Lower, "F3"), ("upper limit for the next comparison", next.Upper, "F3")];
    }

    private static (string, double, string)[] BootstrapExample()
    {
        BootstrapResult r = Bootstrap.TwoSample([.. s_b.Select(v => Math.Log(v))], [.. s_a.Select(v => Math.Log(v))], (x, y) => Mean(x) - Mean(y), 20_000, 1);
        return [("ratio B over A", Math.Exp(r.Observed), "F4"), ("lower limit (BCa, 95 %)", Math.Exp(r.Bca.Lower), "F3"), ("upper limit (BCa, 95 %)", Math.Exp(r.Bca.Upper), "F3")];
    }

    private static double Mean(ReadOnlySpan<double> x)
    {
        double sum = 0;
        foreach (double v in x) sum += v;
        return sum / x.Length;
    }

    private static (string, double, string)[] York()
    {
        System.Text.Json.JsonElement e = Oracle.Read("errors_in_variables.json").GetProperty("cases").GetProperty("pearson_york");
        LineFit fit = YorkLine.Fit(e.Numbers("x"), e.Numbers("y"), [.. e.Numbers("weight_x").Select(w => 1 / Math.Sqrt(w))], [.. e.Numbers("weight_y").Select(w => 1 / Math.Sqrt(w))]);
        return [("slope", fit.Slope, "F4"), ("intercept", fit.Intercept, "F4"), ("standard error of the slope", fit.SlopeStandardError, "F4"), ("χ² on 8 degrees of freedom", fit.ChiSquared, "F2")];
    }

    private static (string, double, string)[] Gumbel()
    {
        Table t = Table.MadeUp("madeup_inclusions.csv");
        GumbelFit fit = GumbelLargest.Fit([.. t.Numbers("max_length_um").Where((_, i) => t.Text("heat")[i] == "A")]);
        return [("location, µm", fit.Location, "F2"), ("scale, µm", fit.Scale, "F2"), ("largest in 1000 areas, µm", fit.ReturnLevel(1000).Level, "F1"), ("its standard error, µm", fit.ReturnLevel(1000, expected: true).StandardError, "F1"),
            ("exact 95 % interval from, µm", fit.ReturnLevelInterval(1000, 0.95).Lower, "F1"), ("exact 95 % interval to, µm", fit.ReturnLevelInterval(1000, 0.95).Upper, "F1")];
    }

    private static (string, double, string)[] Weibull()
    {
        WeibullFit fit = WeibullStrength.Fit(Oracle.Read("extreme_weibull.json").GetProperty("cases").GetProperty("ball_bearings").Numbers("x"));
        return [("shape", fit.Shape, "F3"), ("unbiased shape", fit.UnbiasedShape!.Value, "F3"), ("scale", fit.Scale, "F2"), ("shape, 95 % interval from", fit.ShapeInterval(0.95).Lower, "F2"), ("shape, 95 % interval to", fit.ShapeInterval(0.95).Upper, "F2")];
    }

    private static (string, double, string)[] Budget()
    {
        PropagatedUncertainty u = UncertaintyBudget.Propagate([new("x1", 1, 0.0025, 9), new("x2", 1, 0.0057, 4), new("x3", 1, 0.0082, 14)], x => x[0] * x[1] * x[2]);
        return [("relative standard uncertainty, %", 100 * u.StandardUncertainty, "F2"), ("effective degrees of freedom", u.EffectiveDegreesOfFreedom, "F1"), ("expanded uncertainty at 95 %, %", 100 * u.Expanded(0.95), "F2")];
    }

    private static (string, double, string)[] Pairs()
    {
        GroupDifference d = PairwiseIntervals.Dunnett([[55, 47, 48], [55, 64, 64], [55, 49, 52], [50, 44, 41]], control: 0)[0];
        return [("difference of process 1 to the standard", d.Difference, "F1"), ("allowance", 0.5 * (d.Upper - d.Lower), "F2"), ("simultaneous p", d.P, "F4")];
    }

    private static (string, double, string)[] Study()
    {
        Table t = Table.Published("ergostool.csv");
        double[] y = t.Numbers("effort");
        StudyComparison c = TreatmentStudy.Analyse([.. y.Select((v, i) => new StudyReading(v, t.Text("Type")[i], t.Text("Subject")[i], null))], new() { Control = "T1" }).Comparisons[1];
        return [("T3 less T1", c.Difference, "F3"), ("lower simultaneous limit", c.Lower, "F3"), ("upper simultaneous limit", c.Upper, "F3"), ("simultaneous p", c.P, "F5")];
    }

    private static (string, double, string)[] Regression()
    {
        Table t = Table.MadeUp("madeup_two_heats.csv");
        CovarianceAnalysis a = AnalysisOfCovariance.Fit(t.Numbers("energy_j"), t.Text("heat"), t.Numbers("hrc"), 60);
        return [("A at 60 HRC, J", a.Mean(0).Estimate, "F2"), ("B at 60 HRC, J", a.Mean(1).Estimate, "F2"), ("J per HRC", a.Slope.Estimate, "F2"), ("p of one slope for both", a.ParallelismP, "F2")];
    }

    private static (string, double, string)[] Paired()
    {
        PairedResult r = PairedComparison.Of(Table.Published("darwin.csv").Numbers("y"));
        return [("mean difference", r.Mean, "F2"), ("t", r.T, "F3"), ("p", r.P, "F4"), ("p over all 32768 sign patterns", r.SignFlipP!.Value, "F4")];
    }

    private static (string, double, string)[] Posterior()
    {
        RatioPosterior p = new([.. s_b.Select(v => Math.Log(v))], [.. s_a.Select(v => Math.Log(v))]);
        (double lower, double upper) = p.Interval(0.9);
        return [("lower limit of the ratio, 90 %", Math.Exp(lower), "F4"), ("upper limit of the ratio, 90 %", Math.Exp(upper), "F4"), ("probability inside 0.80..1.25", p.Inside(Math.Log(0.8), Math.Log(1.25)), "F4")];
    }

    private static (string, double, string)[] PosteriorOfSources()
    {
        SourcePosterior p = new(Bayesian.SourcePosteriorTests.Heats("dyestuff"), 2, 0, 1, null, 0.25);
        (double lower, double upper) = p.Interval(0.95);
        return [("median of the ratio", Math.Exp(p.Median), "F4"), ("lower limit, 95 %", Math.Exp(lower), "F4"), ("upper limit, 95 %", Math.Exp(upper), "F4"), ("probability inside 0.95..1.05", p.Inside(Math.Log(0.95), Math.Log(1.05)), "F3"), ("median of τ", p.HeatSdQuantile(0.5), "F3")];
    }
}
