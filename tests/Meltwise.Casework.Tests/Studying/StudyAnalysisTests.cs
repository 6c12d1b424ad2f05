using System.Text.Json;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Planning;
using Meltwise.Casework.Studying;
using Meltwise.Domain;
using Meltwise.Statistics;
using Meltwise.Statistics.Resampling;
using Xunit;

namespace Meltwise.Casework.Tests.Studying;

/// <summary>The numbers of a study are checked in Meltwise.Statistics.Tests (TreatmentStudyTests); here: that a table becomes the right study. Invented coupons.</summary>
public sealed class StudyAnalysisTests
{
    private static readonly DecisionRule s_rule = new() { Property = "impact energy", Margin = new Margin.Ratio(0.8, 1.25) };

    private static CouponTable Table(double cold, int heats = 5)
    {
        RandomStream random = new(9, 0);
        List<CouponRow> rows = [];
        for (int h = 0; h < heats; h++)
        {
            double heat = 0.05 * random.Normal(), hardness = 60 + 0.8 * random.Normal();
            foreach (string treatment in (string[])["no cold step", "cold step"])
                for (int k = 0; k < 6; k++)
                {
                    double z = Math.Log(30) + heat + (treatment == "cold step" ? cold : 0) + 0.08 * random.Normal();
                    rows.Add(new()
                    {
                        Heat = $"H{h}",
                        Coupon = $"{treatment}{k}",
                        Treatment = treatment,
                        Source = h % 2 == 0 ? "P" : "Q",
                        Load = $"L{h}{k % 2}",
                        State = CouponState.Valid,
                        Hardness = [new CensoredValue(hardness + 0.2 * random.Normal(), "HRC", Censoring.None, "60")],
                        Readings = new Dictionary<string, IReadOnlyList<CensoredValue>> { ["impact energy"] = [new CensoredValue(Math.Exp(z), "J", Censoring.None, "30")] },
                    });
                }
        }
        return new(rows, new HashSet<string> { "treatment", "source", "load" }, "study.csv");
    }

    private static Study Of(CouponTable table, string? control = "no cold step") =>
        StudyAnalysis.Of(new() { Table = table, Rule = s_rule, By = ["treatment"], Control = control });

    [Fact]
    public void Treatments_that_are_alike_agree_within_the_margin()
    {
        Study study = Of(Table(0));
        StudiedPair pair = Assert.Single(study.Comparisons);
        Assert.Equal("no cold step", pair.First);
        Assert.Equal(Outcome.Equivalent, pair.Outcome);
        Assert.InRange(pair.Ratio!.Estimate, 0.9, 1.1);
        Assert.Equal(30, study.Groups[0].N);
    }

    [Fact]
    public void A_large_effect_is_better_by_more_than_the_margin() => Assert.Equal(Outcome.Better, Of(Table(0.6)).Comparisons[0].Outcome);

    [Fact]
    public void Invalid_coupons_are_counted_not_used()
    {
        CouponTable table = Table(0);
        Study study = Of(table with { Rows = [table.Rows[0] with { State = CouponState.Invalid }, .. table.Rows.Skip(1)] });
        Assert.Equal(1, study.LeftOut["not a valid coupon"]);
    }

    [Fact]
    public void A_column_that_is_not_there_is_named() =>
        Assert.Contains("no column 'route'", Assert.Throws<StudyFaultException>(() => StudyAnalysis.Of(new() { Table = Table(0), Rule = s_rule, By = ["route"] })).Message, StringComparison.Ordinal);

    [Fact]
    public void A_control_without_coupons_is_named() => Assert.Contains("'oil'", Assert.Throws<InsufficientDataException>(() => Of(Table(0), "oil")).Message, StringComparison.Ordinal);

    [Fact]
    public void Written_as_json_with_outcome_codes()
    {
        using JsonDocument json = JsonDocument.Parse(StudyJson.Write(Of(Table(0))));
        Assert.Equal("equivalent", json.RootElement.GetProperty("comparisons")[0].GetProperty("outcome").GetString());
    }

    // The invented table has a scatter of 0.08 within and 0.05 between heats; 110 and about 8 degrees of freedom hold them to a fifth and a factor of two.
    [Fact]
    public void The_bench_knows_its_scatter_for_a_plan()
    {
        BenchKnowledge known = BenchKnowledge.Of(Table(0, heats: 12), s_rule);
        Assert.InRange(known.WithinHeatSd!.Value, 0.065, 0.095);
        Assert.InRange(known.HeatSd!.Value, 0.02, 0.10);
        PlanRequest request = known.Into(new() { MarginLow = 0.8, MarginHigh = 1.25, WithinHeatSd = 1, Coupons = [6], Replicates = 500 });
        Assert.Equal(known.WithinHeatSd, request.WithinHeatSd);
        Assert.InRange(OutcomeOdds.Of(request, cancel: TestContext.Current.CancellationToken).Table[0].Agreement, 0.8, 1);
    }

    [Fact]
    public void Groups_that_differ_in_hardness_are_said_to()
    {
        CouponTable table = Table(0.1);
        CouponRow Softer(CouponRow row) => row.Treatment == "cold step" ? row with { Hardness = [.. row.Hardness.Select(h => h with { Value = h.Value - 1.5 })] } : row;
        Study study = Of(table with { Rows = [.. table.Rows.Select(Softer)] });
        Assert.Equal(-1.5, study.Comparisons[0].HardnessDifference!.Value, 0.1);
        Assert.Contains(study.Notes, n => n.Contains("not at equal hardness", StringComparison.Ordinal));
        Assert.Equal(60, study.Coupons.Count);
    }

    [Fact]
    public void Groups_outside_the_order_are_left_out_and_counted()
    {
        CouponTable table = Table(0);
        CouponRow stray = table.Rows[0] with { Treatment = "oil", Coupon = "stray" };
        Study study = StudyAnalysis.Of(new() { Table = table with { Rows = [.. table.Rows, stray] }, Rule = s_rule, By = ["treatment"], Order = ["no cold step", "cold step"], Levels = new([0, -80], "°C") });
        Assert.Equal(1, study.LeftOut["not among the ordered levels"]);
        Assert.Equal("no cold step", study.NoChangeBeyond);
        Assert.InRange(1, study.ChangePerLevelLower!.Value, study.ChangePerLevelUpper!.Value);
    }

    // The linear contrast Σ(x − x̄)·ln m/Σ(x − x̄)² over the groups' geometric means, by hand; the change over all levels is that slope times their span, whatever the unit of the values.
    [Fact]
    public void The_linear_change_goes_by_the_values_of_the_levels()
    {
        CouponTable table = Table(0.1);
        string[] levels = ["soft", "middle", "hard"];
        CouponTable three = table with { Rows = [.. table.Rows.Select((r, i) => r with { Treatment = levels[i % 3] })] };
        Study Of(LevelScale? scale) => StudyAnalysis.Of(new() { Table = three, Rule = s_rule, By = ["treatment"], Order = levels, Levels = scale });
        Study uneven = Of(new([520, 530, 580], "°C")), inKelvin = Of(new([793.15, 803.15, 853.15], "K")), tenths = Of(new([52, 53, 58], null)), even = Of(null);
        double[] x = [520, 530, 580], z = [.. uneven.Groups.Select(g => Math.Log(g.Mean))];
        double middle = x.Average(), slope = x.Zip(z, (a, b) => (a - middle) * b).Sum() / x.Sum(a => (a - middle) * (a - middle));
        Assert.Equal(Math.Exp(slope), uneven.ChangePerLevel!.Value, 9);
        Assert.Equal(Math.Exp(60 * slope), uneven.ChangeOverLevels!.Estimate, 9);
        Assert.Equal(uneven.ChangePerLevel.Value, inKelvin.ChangePerLevel!.Value, 9);
        Assert.Equal(uneven.ChangeOverLevels.Upper, tenths.ChangeOverLevels!.Upper, 9);
        Assert.Equal(Math.Exp(0.5 * (z[2] - z[0])), even.ChangePerLevel!.Value, 9);
        Assert.Null(even.LevelValues);
        Assert.Contains("neither rise nor fall", Assert.Throws<StudyFaultException>(() => Of(new([520, 580, 530], null))).Message, StringComparison.Ordinal);
        Assert.Contains("name the levels", Assert.Throws<StudyFaultException>(() => StudyAnalysis.Of(new() { Table = three, Rule = s_rule, By = ["treatment"], Levels = new([1, 2], null) })).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Rows_are_chosen_by_a_column_or_the_column_is_named()
    {
        Assert.Equal(12, Table(0).Only("heat", "h0").Rows.Count);
        Assert.Contains("'colour' is no column", Assert.Throws<StudyFaultException>(() => Table(0).Only("colour", "red")).Message, StringComparison.Ordinal);
    }
}
