using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.Studies;
using Xunit;

namespace Meltwise.Statistics.Tests.Studies;

/// <summary>Oracles/statistics/study.json: lme4 fits with mvtnorm and ptukey. The data sets are Pinheiro and Bates's (2000): stools of four types, three machines.</summary>
public sealed class TreatmentStudyTests
{
    private static readonly JsonElement s_oracle = Oracle.Read("study.json");

    private static StudyReading[] Rows(string file, string value, string group, string heat)
    {
        Table t = Table.Published(file);
        double[] y = t.Numbers(value);
        return [.. y.Select((v, i) => new StudyReading(v, t.Text(group)[i], t.Text(heat)[i], null))];
    }

    [Fact]
    public void Differences_to_a_control_agree()
    {
        JsonElement e = s_oracle.GetProperty("ergostool_dunnett");
        StudyResult r = TreatmentStudy.Analyse(Rows("ergostool.csv", "effort", "Type", "Subject"), new() { Control = "T1" });
        for (int i = 0; i < 3; i++)
        {
            StudyComparison c = r.Comparisons[i];
            Digits.Agree(e.Numbers("difference")[i], c.Difference, new(8), "difference");
            Digits.Agree(e.Numbers("se")[i], c.StandardError, new(6), "standard error");
            Digits.Agree(24, c.DegreesOfFreedom, new(6), "degrees of freedom");
            Assert.Equal(e.Numbers("p")[i], c.P, 2e-6);
            Assert.Equal(e.Number("critical"), 0.5 * (c.Upper - c.Lower) / c.StandardError, 2e-5);
        }
    }

    // Balanced, so all pairs by directions on the sphere must give Tukey's p: an error of a few ten-thousandths is the method's own.
    [Fact]
    public void All_pairs_agree_and_count_workers_not_pieces()
    {
        JsonElement e = s_oracle.GetProperty("machines_tukey");
        StudyResult r = TreatmentStudy.Analyse(Rows("machines.csv", "score", "Machine", "Worker"), new());
        for (int i = 0; i < 3; i++)
        {
            Digits.Agree(e.Numbers("difference")[i], r.Comparisons[i].Difference, new(7), "difference");
            Digits.Agree(10, r.Comparisons[i].DegreesOfFreedom, new(6), "degrees of freedom");
            Assert.Equal(e.Numbers("p")[i], r.Comparisons[i].P, 1e-3);
        }
        Assert.Equal("heat×group", r.Components[1].Name);
    }

    [Fact]
    public void One_heat_is_said_to_be_one_heat()
    {
        StudyReading[] rows = [.. ((double[])[4.0, 4.2, 4.1, 4.4, 4.6, 4.5]).Select((v, i) => new StudyReading(v, i < 3 ? "low" : "high", "H1", null))];
        StudyResult r = TreatmentStudy.Analyse(rows, new() { Control = "low" });
        Assert.Equal("low", r.Comparisons[0].First);
        Assert.Contains(r.Notes, n => n.StartsWith("One heat", StringComparison.Ordinal));
    }

    // Games-Howell errs in 6.4 % of families of groups of 3 (Oracles/statistics/pair_rates.json): below 5 coupons the pairs take T3, a comparison with a control keeps Games-Howell.
    [Theory]
    [InlineData(4, null, "T3")]
    [InlineData(5, null, "Games")]
    [InlineData(4, "g0", "Games")]
    public void Small_groups_of_one_heat_take_T3(int coupons, string? control, string method)
    {
        double[] scatter = [-0.11, 0.04, 0.09, -0.02, 0.06];
        StudyReading[] rows = [.. from g in Enumerable.Range(0, 3) from i in Enumerable.Range(0, coupons) select new StudyReading(0.1 * g + (g + 1) * scatter[i], $"g{g}", "H1", null)];
        Assert.Contains(method, TreatmentStudy.Analyse(rows, new() { Control = control }).Method, StringComparison.Ordinal);
    }

    [Fact]
    public void A_study_that_is_not_diagnosed_has_the_same_comparisons()
    {
        StudyReading[] rows = Rows("machines.csv", "score", "Machine", "Worker");
        StudyResult with = TreatmentStudy.Analyse(rows, new()), without = TreatmentStudy.Analyse(rows, new() { Diagnosed = false });
        Assert.Equal(with.Comparisons.Select(c => (c.Lower, c.Upper, c.P)), without.Comparisons.Select(c => (c.Lower, c.Upper, c.P)));
        Assert.Empty(without.Influence);
    }

    // Two levels: Welch's difference over the step, by hand 0.4/20 with V = 2·0.01/3/20² and ν = 4 (equal variances, three coupons each).
    [Fact]
    public void One_heat_has_a_linear_change_over_the_values_of_its_levels()
    {
        StudyReading[] rows = [.. ((double[])[4.0, 4.2, 4.1, 4.4, 4.6, 4.5]).Select((v, i) => new StudyReading(v, i < 3 ? "520" : "540", "H1", null))];
        StudyTrend trend = TreatmentStudy.Analyse(rows, new() { OrderedGroups = ["520", "540"], LevelValues = [520, 540] }).Trend!;
        Assert.Equal(0.02, trend.PerLevel, 12);
        Assert.Equal(Math.Sqrt(0.02 / 3) / 20, trend.StandardError, 12);
        Assert.Equal(4, trend.DegreesOfFreedom, 9);
    }

    // A linear contrast scales with its levels: twice the step, half the change and half its error.
    [Fact]
    public void The_values_of_levels_set_the_unit_of_the_change()
    {
        StudyReading[] rows = Rows("machines.csv", "score", "Machine", "Worker");
        StudyTrend steps = TreatmentStudy.Analyse(rows, new() { OrderedGroups = ["A", "B", "C"] }).Trend!, doubled = TreatmentStudy.Analyse(rows, new() { OrderedGroups = ["A", "B", "C"], LevelValues = [0, 2, 4] }).Trend!;
        Assert.Equal(steps.PerLevel / 2, doubled.PerLevel, 9);
        Assert.Equal(steps.StandardError / 2, doubled.StandardError, 9);
    }

    [Fact]
    public void Every_level_needs_its_value() => Assert.Contains("2 values were given for 3 ordered levels", Assert.Throws<InsufficientDataException>(() =>
        TreatmentStudy.Analyse(Rows("machines.csv", "score", "Machine", "Worker"), new() { OrderedGroups = ["A", "B", "C"], LevelValues = [1, 2] })).Message, StringComparison.Ordinal);

    // By hand: levels 3 and 4 share one mean, level 2 lies 0.5 below, scatter 0.02: agreement holds from level 3 on and not from level 2.
    [Fact]
    public void No_change_beyond_a_level()
    {
        double[] means = [0, 0.5, 1.0, 1.0], noise = [-0.02, 0.01, 0.0, 0.015, -0.005];
        StudyReading[] rows = [.. from g in Enumerable.Range(0, 4) from h in Enumerable.Range(0, 3) from k in Enumerable.Range(0, 5)
            select new StudyReading(means[g] + 0.01 * h + noise[(k + g + 2 * h) % 5], $"{g + 1} h", $"H{h}", null)];
        StudyResult r = TreatmentStudy.Analyse(rows, new() { OrderedGroups = ["1 h", "2 h", "3 h", "4 h"], MarginLow = -0.1, MarginHigh = 0.1 });
        Assert.Equal("3 h", r.NoChangeBeyond);
        Assert.True(r.Trend!.PerLevel > 0.3);
        Assert.True(r.Comparisons.Single(c => c.First == "3 h" && c.Second == "4 h").InsideMargin);
        Assert.True(r.Comparisons.Single(c => c.First == "1 h" && c.Second == "4 h").BeyondMargin);
    }

    // By hand: heat H2 alone carries the difference of B to A, one reading of A in H0 lies 1.0 above its fellows, and group C scatters ten times as much.
    [Fact]
    public void Heats_readings_and_groups_that_stand_out_are_told()
    {
        double[] noise = [-0.02, 0.01, 0.0, 0.015, -0.005, 0.008];
        StudyReading[] rows = [.. from g in Enumerable.Range(0, 3) from h in Enumerable.Range(0, 4) from k in Enumerable.Range(0, 6)
            select new StudyReading((g == 1 && h == 2 ? 0.4 : 0) + (g == 2 ? 10 : 1) * noise[(k + g + 2 * h) % 6] + (g == 0 && h == 0 && k == 3 ? 1 : 0), "ABC"[g].ToString(), $"H{h}", null)];
        StudyResult r = TreatmentStudy.Analyse(rows, new());
        SuspectReading suspect = r.Suspects[0];
        Assert.Equal(("A", "H0", 3), (suspect.Group, suspect.Heat, suspect.Index));
        Assert.Equal(4, r.Influence.Count);
        Assert.True(Math.Abs(r.Influence[0].InStandardErrors) >= Math.Abs(r.Influence[^1].InStandardErrors));
        StudyResult clean = TreatmentStudy.Analyse([.. rows.Where((_, i) => i != suspect.Index)], new());
        Assert.Equal("H2", TreatmentStudy.Analyse([.. rows.Where((r, i) => i != suspect.Index && r.Group != "C")], new()).Influence[0].Heat);
        Assert.Contains(clean.Notes, n => n.StartsWith("The groups scatter differently within a heat", StringComparison.Ordinal) && n.Contains("in C", StringComparison.Ordinal));
    }

    [Fact]
    public void A_control_that_is_not_there_is_named() =>
        Assert.Contains("'oil'", Assert.Throws<InsufficientDataException>(() =>
            TreatmentStudy.Analyse([new(1, "gas", "A", null), new(2, "salt", "B", null)], new() { Control = "oil" })).Message, StringComparison.Ordinal);
}
