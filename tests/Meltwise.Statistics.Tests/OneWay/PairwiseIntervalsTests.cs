using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Statistics.OneWay;
using Xunit;

namespace Meltwise.Statistics.Tests.OneWay;

/// <summary>Oracles/statistics/oneway.json, made by R on the data sets it names. The studentized range of R holds 6 to 8 digits in p.</summary>
public sealed class PairwiseIntervalsTests
{
    private static readonly JsonElement s_oracle = Oracle.Read("oneway.json");

    public static TheoryData<string> Sets => ["plantgrowth", "insectsprays", "gravity"];

    private static double[][] Groups(string set)
    {
        (string response, string factor) = set switch { "plantgrowth" => ("weight", "group"), "insectsprays" => ("count", "spray"), _ => ("g", "series") };
        Table t = Table.Published(set + ".csv");
        return [.. t.Text(factor).Zip(t.Numbers(response)).GroupBy(p => p.First).Select(g => g.Select(p => p.Second).ToArray())];
    }

    [Theory]
    [MemberData(nameof(Sets))]
    public void Classical_and_Welch_tests_agree(string set)
    {
        JsonElement e = s_oracle.GetProperty(set);
        AnovaTable table = OneWayAnova.Fit(Groups(set));
        Digits.Agree(e.GetProperty("classical").Number("F"), table.F, new(11), "F");
        Digits.Agree(e.GetProperty("classical").Number("p"), table.P, new(10), "p");
        WelchAnovaResult welch = WelchAnova.Fit(Groups(set));
        Digits.Agree(e.GetProperty("welch").Number("F"), welch.F, new(11), "Welch F");
        Digits.Agree(e.GetProperty("welch").Number("df2"), welch.DenominatorDf, new(11), "Welch degrees of freedom");
        Digits.Agree(e.GetProperty("welch").Number("p"), welch.P, new(10), "Welch p");
    }

    [Theory]
    [MemberData(nameof(Sets))]
    public void All_pairs_agree(string set)
    {
        Compare(s_oracle.GetProperty(set).GetProperty("tukey"), PairwiseIntervals.Tukey(Groups(set)), limits: true);
        Compare(s_oracle.GetProperty(set).GetProperty("games_howell"), PairwiseIntervals.GamesHowell(Groups(set)), limits: false);
    }

    // Oracles/statistics/pair_rates.json: families simulated with numpy and scipy's studentized range; what the page says of both methods comes from there.
    [Fact]
    public void Rates_on_the_page_are_those_simulated()
    {
        string page = File.ReadAllText(Path.Combine(Repository.Root, "docs", "methods", "PairwiseIntervals.md"));
        Dictionary<int, JsonElement> rows = Oracle.Read("pair_rates.json").GetProperty("rows").EnumerateArray().ToDictionary(r => (int)r.Number("coupons"));
        string Percent(int coupons, string method) => (100 * rows[coupons].Number(method)).ToString("F1", System.Globalization.CultureInfo.InvariantCulture) + " %";
        Assert.Contains($"{Percent(3, "gamesHowell")} with 3 readings a group, {Percent(4, "gamesHowell")} with 4, {Percent(6, "gamesHowell")} with 6 and {Percent(12, "gamesHowell")} with 12", page, StringComparison.Ordinal);
        Assert.Contains($"T3 in {Percent(3, "t3")} and {Percent(4, "t3")} with 3 and 4", page, StringComparison.Ordinal);
    }

    // Oracles/statistics/t3.json: the definition of Dunnett (1980) by scipy's adaptive quadrature; invented groups of 3 and 4.
    [Fact]
    public void All_pairs_of_small_groups_agree()
    {
        JsonElement e = Oracle.Read("t3.json");
        IReadOnlyList<GroupDifference> ours = PairwiseIntervals.T3([.. e.GetProperty("groups").EnumerateArray().Select(g => g.EnumerateArray().Select(v => v.GetDouble()).ToArray())]);
        int i = 0;
        foreach (JsonElement pair in e.GetProperty("pairs").EnumerateArray())
        {
            GroupDifference our = ours[i++];
            Assert.Equal(((int)pair.Number("first"), (int)pair.Number("second")), (our.First, our.Second));
            Digits.Agree(pair.Number("degreesOfFreedom"), our.DegreesOfFreedom, new(10), "degrees of freedom");
            Digits.Agree(pair.Number("lower"), our.Lower, new(7), "lower limit");
            Digits.Agree(pair.Number("upper"), our.Upper, new(7), "upper limit");
            Digits.Agree(pair.Number("p"), our.P, new(7), "p");
        }
        Assert.Equal(6, i);
    }

    private static void Compare(JsonElement e, IReadOnlyList<GroupDifference> ours, bool limits)
    {
        double[] difference = e.Numbers("diff"), p = e.Numbers("p");
        for (int i = 0; i < difference.Length; i++)
        {
            Assert.Equal(difference[i], ours[i].Difference, 1e-10);
            Assert.Equal(p[i], ours[i].P, 1e-7);
            if (!limits) continue;
            Assert.Equal(e.Numbers("lower")[i], ours[i].Lower, 1e-5 * ours[i].StandardError);
            Assert.Equal(e.Numbers("upper")[i], ours[i].Upper, 1e-5 * ours[i].StandardError);
        }
    }

    // Dunnett (1955), J. Am. Stat. Assoc. 50, 1096: breaking strength of a fabric, three processes against a standard, means 50, 61, 52, 45,
    // s² = 19; the exact two-sided 5 % point for three groups and 8 degrees of freedom is 2.88 in Dunnett (1964), Biometrics 20, 482 (from memory).
    [Fact]
    public void Groups_against_a_control_share_one_allowance()
    {
        double[][] groups = [[55, 47, 48], [55, 64, 64], [55, 49, 52], [50, 44, 41]];
        IReadOnlyList<GroupDifference> differences = PairwiseIntervals.Dunnett(groups, control: 0);
        double s = Math.Sqrt(OneWayAnova.Fit(groups).Within.MeanSquare * 2 / 3);
        Assert.All(differences, d => new Published("2.88").Agrees(0.5 * (d.Upper - d.Lower) / s, "Dunnett's t"));
        Assert.Equal([11, 2, -5], differences.Select(d => d.Difference));
    }
}
