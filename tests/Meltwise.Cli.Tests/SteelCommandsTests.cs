using System.Text.Json;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Cli.Tests;

/// <summary>The command contract of <c>equilibrium</c> and <c>explain</c>.</summary>
public sealed class SteelCommandsTests : IDisposable
{
    private const string Reference = "C 1.50, Cr 12.0, Mo 0.8, V 0.9, Mn 0.3, Si 0.3";
    private const string Candidate = "C 1.55, Cr 11.7, Mo 0.8, V 0.9, Mn 0.3, Si 0.3";
    private readonly MeltwiseProcess _meltwise = new();

    [Fact]
    public void An_equilibrium_bears_the_names_of_the_contract()
    {
        JsonElement result = _meltwise.Run("equilibrium", "--steel", Reference, "--at", "1020C", "--json").Expect(0).Json();
        Assert.Equal(1293.15, result.GetProperty("temperatureK").GetDouble(), 1e-9);
        JsonElement[] phases = [.. result.GetProperty("phases").EnumerateArray()];
        Assert.Equal(1, phases.Sum(p => p.GetProperty("massFraction").GetDouble()), 1e-9);
        Assert.All(phases, p => Assert.Contains(p.GetProperty("name").GetString(), new[] { "austenite", "ferrite", "MC", "M2C", "M3C", "M6C", "M7C3", "M23C6" }));
        Assert.InRange(result.GetProperty("certificate").GetProperty("massBalanceMax").GetDouble(), 0, 1e-11);
        Assert.All(result.GetProperty("martensiteStart").EnumerateArray(), m => Assert.NotEqual(JsonValueKind.Undefined, m.GetProperty("celsius").ValueKind));
    }

    // 1020 °C is 1868 °F and 1293.15 K by the definition of the scales.
    [Theory]
    [InlineData("1868F")]
    [InlineData("1293.15K")]
    [InlineData("1020 °C")]
    public void A_temperature_may_be_in_C_F_or_K(string at) =>
        Digits.Agree(1293.15, _meltwise.Run("equilibrium", "--steel", "C 1", "--at", at, "--json").Expect(0).Json().GetProperty("temperatureK").GetDouble(), new(14), at);

    [Fact]
    public void A_sweep_gives_a_result_at_each_step() =>
        Assert.Equal(5, _meltwise.Run("equilibrium", "--steel", Reference, "--from", "900C", "--to", "1000C", "--step", "25", "--json").Expect(0).Json().GetProperty("sweep").GetArrayLength());

    [Theory]
    [InlineData("C 60, Cr 50", 1)]
    [InlineData("C -1", 1)]
    [InlineData("C 1, C 2", 1)]
    [InlineData("Xx 1", 1)]
    [InlineData("", 1)]
    public void A_composition_that_cannot_be_is_a_fault_of_the_input(string steel, int status) =>
        Assert.Empty(_meltwise.Run("equilibrium", "--steel", steel, "--at", "1020C").Expect(status).Output);

    [Fact]
    public void Outside_the_range_is_a_refusal() => _meltwise.Run("equilibrium", "--steel", Reference, "--at", "2000C").Expect(3);

    [Fact]
    public void An_explanation_is_the_same_for_a_seed_and_bears_the_names_of_the_contract()
    {
        string[] arguments = ["explain", "--reference-steel", Reference, "--candidate-steel", Candidate, "--at", "1020C", "--quench-to", "20C", "--temper", "200C/2h,200C/2h", "--observed-hrc", "0.8", "--draws", "400", "--json"];
        Ending first = _meltwise.Run(arguments).Expect(0);
        Assert.Equal(first.Output, _meltwise.Run(arguments).Expect(0).Output);
        JsonElement result = first.Json();
        foreach (string name in new[] { "carbonInAustenite", "chromiumInAustenite", "carbideVolumeFraction", "martensiteStartC", "retainedAustenite", "hardnessHrc" })
            Assert.True(result.GetProperty("difference").GetProperty(name).GetProperty("lower").GetDouble() <= result.GetProperty("difference").GetProperty(name).GetProperty("upper").GetDouble(), name);
        Assert.Contains(result.GetProperty("strength").GetString(), new[] { "measured", "consistent", "speculative" });
        Assert.Contains(result.GetProperty("contributions").EnumerateArray(), c => c.GetProperty("element").GetString() == "C" && c.GetProperty("hardnessHrc").GetProperty("estimate").GetDouble() > 0);
    }

    [Theory]
    [InlineData("--temper", "200")]
    [InlineData("--at", "hot")]
    [InlineData("--draws", "5")]
    public void A_wrong_option_ends_with_status_2(string option, string value)
    {
        List<string> arguments = ["explain", "--reference-steel", Reference, "--candidate-steel", Candidate, option, value];
        if (option != "--at") arguments.AddRange(["--at", "1020C"]);
        _meltwise.Run([.. arguments]).Expect(2);
    }

    [Fact]
    public void An_equilibrium_names_the_publication_of_every_parameter_and_answers_for_transitions()
    {
        JsonElement result = _meltwise.Run("equilibrium", "--steel", Reference, "--at", "1020C", "--transitions", "--json").Expect(0).Json();
        JsonElement[] sources = [.. result.GetProperty("sources").EnumerateArray()];
        Assert.True(sources.Sum(s => s.GetProperty("parameters").GetArrayLength()) > 100);
        Assert.All(sources, s => Assert.NotEmpty(s.GetProperty("citation").GetString()!));
        Assert.All(result.GetProperty("martensiteStart").EnumerateArray(), m => Assert.NotEmpty(m.GetProperty("source").GetString()!));
        Assert.Contains(result.GetProperty("questions").EnumerateArray(), q => q.GetProperty("question").GetString()!.StartsWith("A1", StringComparison.Ordinal) && q.GetProperty("celsius").GetDouble() is > 760 and < 830);
        Assert.Contains("Solvus of M7C3", _meltwise.Run("equilibrium", "--steel", Reference, "--at", "1020C", "--transitions", "--sources").Expect(0).Output, StringComparison.Ordinal);
    }

    [Fact]
    public void An_explanation_lists_oxides_flaws_and_carbides_of_each_steel_with_sources()
    {
        string[] arguments =
        [
            "explain", "--reference-steel", Reference + ", O 0.004", "--candidate-steel", Candidate + ", O 0.009", "--at", "1020C", "--draws", "100", "--coupons", "8",
            "--reference-history", "consolidation 1150C 3h; reheat 1120 to 900 °C 90 min", "--reference-powder", "250", "--undissolved", "20%",
        ];
        JsonElement result = _meltwise.Run([.. arguments, "--json"]).Expect(0).Json();
        JsonElement[] outlooks = [.. result.GetProperty("outlooks").EnumerateArray()];
        Assert.Equal(["reference steel", "candidate steel"], outlooks.Select(o => o.GetProperty("heat").GetString()));
        Assert.Equal(40, outlooks[0].GetProperty("oxides").GetProperty("oxygenPpm").GetDouble(), 1e-6);
        Assert.True(outlooks[1].GetProperty("oxides").GetProperty("chanceAtLeastOne").GetDouble() > outlooks[0].GetProperty("oxides").GetProperty("chanceAtLeastOne").GetDouble());
        Assert.Equal(8, outlooks[0].GetProperty("oxides").GetProperty("coupons").GetInt32());
        Assert.Contains(outlooks[0].GetProperty("carbides").EnumerateArray(), c => c.GetProperty("carbide").GetString() == "M7C3");
        Assert.Empty(outlooks[1].GetProperty("carbides").EnumerateArray());
        Assert.All(outlooks, o => Assert.NotEqual(0, o.GetProperty("sources").GetArrayLength()));
        Assert.Contains(result.GetProperty("notes").EnumerateArray(), n => n.GetString()!.StartsWith("Short soak: 20", StringComparison.Ordinal));
        Assert.Equal("as quenched", result.GetProperty("hardnessMeaning").GetString());

        string page = _meltwise.Run(arguments).Expect(0).Output;
        foreach (string told in new[] { "Oxides and carbides", "reference steel", "critical flaw", "one or more of 8 coupons", "M7C3", "Murakami" }) Assert.Contains(told, page, StringComparison.Ordinal);
    }

    [Fact]
    public void High_tempers_of_a_grade_with_a_published_curve_give_its_hardness_and_name_it()
    {
        JsonElement result = _meltwise.Run("explain", "--reference-steel", "C 0.40, Mn 0.35, Si 1.0, Cr 5.2, Mo 1.3, V 0.95", "--candidate-steel", "C 0.41, Mn 0.35, Si 1.0, Cr 5.2, Mo 1.3, V 0.95",
            "--at", "1010C", "--temper", "538C/2h,538C/2h", "--draws", "200", "--json").Expect(0).Json();
        Assert.Equal("tempered, by the published curve of H13", result.GetProperty("hardnessMeaning").GetString());
        Assert.Equal(53, result.GetProperty("reference").GetProperty("state").GetProperty("hardnessHrc").GetProperty("estimate").GetDouble(), 0.3);
    }

    [Theory]
    [InlineData("C 60, Cr 50", "less than 100 mass percent")]
    [InlineData("C -1", "0 or more")]
    [InlineData("C 1, C 2", "given twice")]
    [InlineData("Xx 1", "no such element")]
    [InlineData("C 50 ppm", "expected a symbol and a mass percent")]
    public void A_steel_to_explain_that_cannot_be_is_told_in_words(string steel, string told)
    {
        Ending ending = _meltwise.Run("explain", "--reference-steel", steel, "--candidate-steel", Candidate, "--at", "1020C").Expect(1);
        Assert.Contains(told, ending.Messages, StringComparison.Ordinal);
        Assert.DoesNotContain("..", ending.Messages, StringComparison.Ordinal);
        Assert.DoesNotContain("Parameter '", ending.Messages, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--quench-to", "400C", 2)]
    [InlineData("--undissolved", "95%", 2)]
    [InlineData("--temper", "200", 2)]
    [InlineData("--temper", "900C/2h", 3)]
    [InlineData("--at", "300C", 3)]
    [InlineData("--reference-history", "soak", 2)]
    [InlineData("--reference-powder", "5", 2)]
    public void A_value_outside_what_the_models_hold_is_told(string option, string value, int status)
    {
        string[] at = option == "--at" ? [] : ["--at", "1020C"];
        Ending ending = _meltwise.Run(["explain", "--reference-steel", Reference, "--candidate-steel", Candidate, .. at, option, value, "--draws", "100"]).Expect(status);
        Assert.Empty(ending.Output);
        Assert.DoesNotContain("Parameter '", ending.Messages, StringComparison.Ordinal);
    }

    public void Dispose() => _meltwise.Dispose();
}
