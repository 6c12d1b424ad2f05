using System.Globalization;
using System.Text;
using System.Text.Json;
using Json.Schema;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Cli.Tests;

/// <summary>The command contract of <c>compare</c>: exit statuses, one JSON object on standard output, faults with their place.</summary>
public sealed class CompareCommandTests : IDisposable
{
    private readonly MeltwiseProcess _meltwise = new();

    // The two lots of a worked example computed by the statistics engine of another program (oracle verdict.json, case "equivalent", invented readings;
    // figures from R 4.2: t.test on logarithms). Eight digits are stored there; the program must agree to seven.
    [Fact]
    public void Two_lots_from_a_bare_table_are_judged_as_the_oracle_judges_them()
    {
        string table = _meltwise.File("coupons.csv", Lots(
            [34.1, 42.4, 31.9, 40.6, 38, 36.8, 45.3, 35.5, 39.2], [34.6, 47.2, 42, 36.2, 39, 32.2, 44, 40.4, 37.7]));

        JsonElement verdict = _meltwise.Run("compare", table, "--reference", "K17", "--candidate", "M03", "--margin", "0.80..1.25", "--json").Expect(0).Json();

        JsonElement ratio = verdict.GetProperty("asTested").GetProperty("ratio");
        Digits.Agree(1.02654208769, ratio.GetProperty("estimate").GetDouble(), new(7), "ratio");
        Digits.Agree(0.915005703117, ratio.GetProperty("lower").GetDouble(), new(7), "lower limit");
        Digits.Agree(1.15167441494, ratio.GetProperty("upper").GetDouble(), new(7), "upper limit");
        Assert.Equal("equivalent", verdict.GetProperty("verdict").GetProperty("outcome").GetString());
        Assert.Equal("no-hardness", verdict.GetProperty("equalHardness").GetProperty("refused").GetString());
    }

    [Fact]
    public void The_result_is_valid_by_the_shipped_schema()
    {
        string table = _meltwise.File("coupons.csv", Lots([30.5, 25.7, 28.5, 27.4], [50.2, 47.8, 42.3, 44.1]));
        JsonElement verdict = _meltwise.Run("compare", table, "--reference", "K17", "--candidate", "M03", "--margin", "15%", "--json").Expect(0).Json();

        JsonSchema schema = JsonSchema.FromFile(Path.Combine(Repository.Root, "src", "Meltwise.Casework", "Judging", "verdict.schema.json"));
        EvaluationResults results = schema.Evaluate(verdict, new EvaluationOptions { OutputFormat = OutputFormat.List });
        Assert.True(results.IsValid, string.Join('\n', (results.Details ?? []).Where(d => d.Errors is not null).SelectMany(d => d.Errors!.Select(e => $"{d.InstanceLocation} {e.Key}: {e.Value}"))));
    }

    [Fact]
    public void A_refusal_ends_with_status_3_and_the_whole_object()
    {
        string table = _meltwise.File("coupons.csv", Lots([40.0], [41.0]));
        JsonElement verdict = _meltwise.Run("compare", table, "--reference", "K17", "--candidate", "M03", "--margin", "15%", "--json").Expect(3).Json();
        Assert.Equal("no-verdict", verdict.GetProperty("verdict").GetProperty("outcome").GetString());
        Assert.Equal("too-few", verdict.GetProperty("verdict").GetProperty("reason").GetString());
    }

    [Fact]
    public void A_lot_without_a_reading_is_a_refusal_on_the_page_too()
    {
        string table = _meltwise.File("coupons.csv", "heat,coupon,impact energy [J],hardness [HRC]\nK17,1,40,61\nK17,2,41,61\nK17,3,42,61\nM03,1,,61\n");
        string page = _meltwise.Run("compare", table, "--reference", "K17", "--candidate", "M03", "--margin", "15%").Expect(3).Output;
        Assert.Contains("no coupon of the candidate has a valid reading of impact energy", page.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Fact]
    public void All_faults_of_a_table_are_listed_with_their_place()
    {
        string table = _meltwise.File("coupons.csv", "heat,coupon,impact energy [J]\nK17,1,40\nK17,1,41\nM03,1,-5\nM03,2,forty\n");
        Ending ending = _meltwise.Run("compare", table, "--reference", "K17", "--candidate", "M03", "--margin", "15%", "--json").Expect(1);
        JsonElement[] faults = [.. ending.Json().GetProperty("faults").EnumerateArray()];
        Assert.Equal([3, 4, 5], faults.Select(f => f.GetProperty("row").GetInt32()).Order());
        Assert.All(faults, f => Assert.False(string.IsNullOrEmpty(f.GetProperty("expected").GetString())));
    }

    [Theory]
    [InlineData("--margin", "banana")]
    [InlineData("--margin", "1.1..1.2")]
    [InlineData("--alpha", "0.7")]
    [InlineData("--estimand", "everything")]
    [InlineData("--property", "luck")]
    [InlineData("--primary", "hardness")]
    [InlineData("--primary", "hardness=25%")]
    [InlineData("--primary", "toughness=25%")]
    [InlineData("--secondary", "luck=1 HRC")]
    public void A_wrong_command_line_ends_with_status_2(string option, string value)
    {
        string table = _meltwise.File("coupons.csv", Lots([40, 41, 42], [41, 42, 43]));
        List<string> arguments = ["compare", table, "--reference", "K17", "--candidate", "M03", option, value];
        if (option != "--margin") arguments.AddRange(["--margin", "15%"]);
        Ending ending = _meltwise.Run([.. arguments]).Expect(2);
        Assert.Empty(ending.Output);
        Assert.NotEmpty(ending.Messages);
    }

    [Fact]
    public void Further_primary_and_secondary_properties_are_judged_with_the_first()
    {
        string table = _meltwise.File("several.csv", """
            heat,coupon,impact energy [J],hardness [HRC],retained austenite [vol%]
            K17,1,40.1,61.8,7.1
            K17,2,44.0,62.1,6.4
            K17,3,37.5,61.6,7.9
            K17,4,42.2,62.0,6.8
            M03,1,39.5,61.5,7.9
            M03,2,43.1,61.6,7.2
            M03,3,36.8,61.3,8.3
            M03,4,40.9,61.8,7.6
            """);
        string[] arguments = ["compare", table, "--reference", "K17", "--candidate", "M03", "--margin", "25%", "--primary", "hardness=1 HRC", "--secondary", "retained austenite=±2 vol%"];
        JsonElement verdict = _meltwise.Run([.. arguments, "--json"]).Expect(0).Json();
        Assert.Equal(["primary", "secondary"], verdict.GetProperty("otherProperties").EnumerateArray().Select(o => o.GetProperty("role").GetString()!));
        Assert.Equal("yes", verdict.GetProperty("joint").GetProperty("allEquivalent").GetString());
        Assert.Equal("yes", verdict.GetProperty("verdict").GetProperty("answer").GetString());
        string page = _meltwise.Run(arguments).Expect(0).Output;
        Assert.Contains("in all 2 primary properties", page, StringComparison.Ordinal);
        Assert.Contains("retained austenite", page, StringComparison.Ordinal);
    }

    [Fact]
    public void A_temper_ladder_of_both_lots_is_compared_at_equal_hardness()
    {
        string table = _meltwise.File("ladder.csv", """
            heat,coupon,treatment,impact energy [J],hardness [HRC]
            K17,1,180 °C,27.1,62.4
            K17,2,180 °C,30.4,62.1
            K17,3,260 °C,38.2,59.6
            K17,4,260 °C,34.4,59.3
            M03,1,180 °C,29.5,61.7
            M03,2,180 °C,26.3,61.9
            M03,3,260 °C,40.6,58.9
            M03,4,260 °C,36.1,59.1
            """);
        string[] arguments = ["compare", table, "--reference", "K17", "--candidate", "M03", "--margin", "50%", "--estimand"];
        JsonElement verdict = _meltwise.Run([.. arguments, "equal-hardness", "--json"]).Expect(0).Json();
        Assert.Equal("within the lots, between levels of a temper ladder", verdict.GetProperty("equalHardness").GetProperty("logPerHrc").GetProperty("slopeKind").GetString());
        Assert.Equal("strata-differ", verdict.GetProperty("asTested").GetProperty("refused").GetString());
        Assert.Equal("strata-differ", _meltwise.Run([.. arguments, "as-tested", "--json"]).Expect(3).Json().GetProperty("verdict").GetProperty("reason").GetString());
    }

    [Fact]
    public void A_column_of_another_name_is_mapped()
    {
        string table = _meltwise.File("coupons.csv", Lots([40, 41, 42.5], [41, 42, 43.5]).Replace("impact energy [J]", "Kerbschlag", StringComparison.Ordinal));
        _meltwise.Run("compare", table, "--reference", "K17", "--candidate", "M03", "--margin", "15%").Expect(1);
        JsonElement verdict = _meltwise.Run("compare", table, "--reference", "K17", "--candidate", "M03", "--margin", "15%", "--map", "Kerbschlag=impact energy [J]", "--json").Expect(0).Json();
        Assert.Equal(3, verdict.GetProperty("lots")[0].GetProperty("n").GetInt32());
    }

    [Fact]
    public void The_page_for_people_names_outcome_claims_and_limits()
    {
        string table = _meltwise.File("coupons.csv", Lots([40, 41, 42.5, 39], [41, 42, 43.5, 40]));
        string page = _meltwise.Run("compare", table, "--reference", "K17", "--candidate", "M03", "--margin", "25%").Expect(0).Output;
        Assert.Contains("May not be claimed", page, StringComparison.Ordinal);
        Assert.Contains("Relates only to the items tested", page, StringComparison.Ordinal);
        Assert.DoesNotContain("\u001b[", page, StringComparison.Ordinal);
    }

    [Fact]
    public void An_enquiry_of_the_demonstration_bench_is_judged_and_kept()
    {
        _meltwise.Run("demo").Expect(0);
        string bench = Path.Combine(_meltwise.Folder, "demonstration.meltwise");
        JsonElement verdict = _meltwise.Run("compare", "--enquiry", "Q-07", "--bench", bench, "--json").Expect(0).Json();
        Assert.Equal("locked", verdict.GetProperty("rule").GetProperty("standing").GetString());
        Assert.True(verdict.GetProperty("history").GetProperty("matched").GetProperty("heats").GetInt32() > 20);
        _meltwise.Run("check", "--bench", bench).Expect(0);
    }

    public void Dispose() => _meltwise.Dispose();

    private static string Lots(double[] reference, double[] candidate)
    {
        StringBuilder table = new("heat,coupon,impact energy [J]\n");
        foreach ((string heat, double[] values) in new[] { ("K17", reference), ("M03", candidate) })
            foreach ((int i, double value) in values.Index())
                table.Append(CultureInfo.InvariantCulture, $"{heat},{i + 1},{value}\n");
        return table.ToString();
    }
}
