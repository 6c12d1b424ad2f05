using System.Globalization;
using System.Text.Json;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>The comparison on open, published measurements against R's own t.test (Oracles/open-data; sources in Published/open-data). Asked for: 11 digits; the oracle file prints 15.</summary>
public sealed class OpenDataTests
{
    private static readonly Digits s_digits = new(11);
    private static readonly JsonElement s_oracle = Load();

    // Notched specimens of structural steels, points digitised from published graphs: real impact energies, not tool steel.
    [Fact]
    public void Charpy_energies_of_two_series()
    {
        (double[] candidate, double[] reference) = (Column("charpy_36_96.csv", "96", 0, 2), Column("charpy_36_96.csv", "36", 0, 2));
        Verdict verdict = Judge(candidate, reference, Coupons.Rule());
        CompareRatio(Set("charpy"), verdict);
        DifferenceInterval difference = verdict.AsTested!.Difference!;
        double[] expected = [.. Set("charpy").GetProperty("difference").EnumerateArray().Select(e => e.GetDouble())];
        Digits.Agree(expected[0], difference.Estimate, s_digits, "difference of arithmetic means");
        Digits.Agree(expected[1], difference.Lower, s_digits, "its lower limit");
        Digits.Agree(expected[2], difference.Upper, s_digits, "its upper limit");
    }

    // Dobson (1983), dried weights of plants, treatment 2 against control.
    [Fact]
    public void Plant_weights() => CompareRatio(Set("plantgrowth"), Judge(Column("plantgrowth.csv", "trt2", 1, 0), Column("plantgrowth.csv", "ctrl", 1, 0), Coupons.Rule()));

    // Student (1908), hours of sleep gained: a linear scale with a margin of 3.
    [Fact]
    public void Hours_of_sleep()
    {
        DecisionRule rule = new() { Property = "sleep gained", Scale = PropertyScale.Linear, Better = GoodDirection.Higher, Margin = new Margin.Absolute(3, "h") };
        AsTested a = Judge(Column("sleep.csv", "2", 1, 0), Column("sleep.csv", "1", 1, 0), rule, "h").AsTested!;
        JsonElement set = Set("sleep");
        double[] wide = [.. set.GetProperty("wide").EnumerateArray().Select(e => e.GetDouble())], narrow = [.. set.GetProperty("narrow").EnumerateArray().Select(e => e.GetDouble())];
        Assert.Null(a.Ratio);
        Digits.Agree(set.GetProperty("estimate").GetDouble(), a.Difference!.Estimate, s_digits, "difference");
        Digits.Agree(wide[0], a.Difference.Lower, s_digits, "lower");
        Digits.Agree(wide[1], a.Difference.Upper, s_digits, "upper");
        Digits.Agree(narrow[0], a.DifferenceForMargin!.Lower, s_digits, "narrow lower");
        Digits.Agree(narrow[1], a.DifferenceForMargin.Upper, s_digits, "narrow upper");
        Digits.Agree(set.GetProperty("pEquivalence").GetDouble(), a.PEquivalence, s_digits, "two one-sided tests");
    }

    private static void CompareRatio(JsonElement set, Verdict verdict)
    {
        AsTested a = verdict.AsTested!;
        double[] wide = [.. set.GetProperty("wide").EnumerateArray().Select(e => e.GetDouble())], narrow = [.. set.GetProperty("narrow").EnumerateArray().Select(e => e.GetDouble())];
        Digits.Agree(set.GetProperty("estimate").GetDouble(), a.Ratio!.Estimate, s_digits, "ratio");
        Digits.Agree(set.GetProperty("standardError").GetDouble(), a.StandardError, s_digits, "standard error");
        Digits.Agree(set.GetProperty("degreesOfFreedom").GetDouble(), a.DegreesOfFreedom, s_digits, "degrees of freedom");
        Digits.Agree(wide[0], a.Ratio.Lower, s_digits, "wide lower");
        Digits.Agree(wide[1], a.Ratio.Upper, s_digits, "wide upper");
        Digits.Agree(narrow[0], a.RatioForMargin!.Lower, s_digits, "narrow lower");
        Digits.Agree(narrow[1], a.RatioForMargin.Upper, s_digits, "narrow upper");
        Digits.Agree(set.GetProperty("pDifference").GetDouble(), a.PDifference, s_digits, "two-sided p");
        Digits.Agree(set.GetProperty("pEquivalence").GetDouble(), a.PEquivalence, s_digits, "two one-sided tests");
        Digits.Agree(set.GetProperty("scatterRatio").GetDouble(), a.Scatter!.RatioOfSd, s_digits, "ratio of scatters");
        Assert.Equal(Expected(wide, narrow), a.Outcome);
    }

    /// <summary>The decision table read off R's intervals, higher being better, margin 0.80 to 1.25.</summary>
    private static Outcome Expected(double[] wide, double[] narrow) =>
        narrow[0] > 0.8 && narrow[1] < 1.25 ? wide[0] > 1 || wide[1] < 1 ? Outcome.EquivalentDetectable : Outcome.Equivalent
        : wide[0] > 1.25 ? Outcome.Better : wide[1] < 0.8 ? Outcome.Worse
        : wide[0] > 1 || wide[1] < 1 ? Outcome.DifferentOpen : Outcome.Inconclusive;

    private static Verdict Judge(double[] candidate, double[] reference, DecisionRule rule, string unit = "J") =>
        Comparison.Judge(Coupons.Input([.. Coupons.Lot("K17", reference, unit, property: rule.Property), .. Coupons.Lot("M03", candidate, unit, property: rule.Property)], rule), TestContext.Current.CancellationToken);

    private static double[] Column(string file, string group, int groupColumn, int valueColumn) =>
    [
        .. File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Published", "open-data", file)).Skip(1).Select(l => l.Replace("\"", "", StringComparison.Ordinal).Split(','))
            .Where(c => c[groupColumn] == group).Select(c => double.Parse(c[valueColumn], CultureInfo.InvariantCulture)),
    ];

    private static JsonElement Set(string name) => s_oracle.GetProperty("sets").EnumerateArray().First(s => s.GetProperty("name").GetString() == name);

    private static JsonElement Load()
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Oracles", "open-data", "open_data.json")));
        return document.RootElement.Clone();
    }
}
