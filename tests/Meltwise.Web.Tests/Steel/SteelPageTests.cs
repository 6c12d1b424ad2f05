using System.Net;
using System.Text.RegularExpressions;
using Meltwise.Metallurgy.Tempering;
using Meltwise.Web.Steel;
using Meltwise.Web.Tests.LongWork;
using Xunit;

namespace Meltwise.Web.Tests.Steel;

/// <summary>The steel calculator: transitions, hardness, the difference of two steels explained, and what it refuses in words.</summary>
public sealed partial class SteelPageTests
{
    // Iron-carbon diagram: eutectoid at 727 °C, 0.77 wt% C (ASM Handbook 3, Fe-C; from memory). The parameter set reproduces it within 2 K.
    [Fact]
    public async Task Plain_carbon_steel_becomes_austenite_at_the_eutectoid_temperature()
    {
        string page = await Get("steel?a=C+0.77&at=850");
        Match a1 = A1().Match(page);
        Assert.True(a1.Success, page);
        Assert.InRange(int.Parse(a1.Groups["celsius"].Value, System.Globalization.CultureInfo.InvariantCulture), 725, 729);
    }

    // Handbooks give AISI D2 hardened from 1010 °C 62 to 65 HRC as quenched (from memory); the chain's own scatter is 2 HRC more either way.
    [Fact]
    public async Task A_low_temper_lowers_the_hardness_as_quenched()
    {
        string page = await Get("steel?a=C+1.5,+Cr+12,+Mo+0.8,+V+0.9&at=1010&temper=200/2,+200/2");
        double quenched = Hardness(page, "hardness as quenched"), tempered = Hardness(page, "hardness as tempered");
        Assert.InRange(quenched, 60, 67);
        Assert.InRange(quenched - tempered, 2, 4);
    }

    // The demonstration of the calculator, not a check of truth: every example leads to a result without a fault.
    [Fact]
    public async Task Every_steel_to_try_leads_to_a_result()
    {
        string empty = await Get("steel");
        foreach (StandardSteel steel in StandardSteel.All)
        {
            Assert.Contains($">{steel.Name}</a>", empty, StringComparison.Ordinal);
            string page = await Get(steel.Address);
            Assert.Contains("Quench and temper", page, StringComparison.Ordinal);
            Assert.DoesNotContain("role=\"alert\"", page, StringComparison.Ordinal);
        }

        Assert.Contains("The difference explained", await Get(StandardSteel.Pair), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_steels_are_explained_by_element()
    {
        string page = await Get("steel?a=C+0.90,+Cr+5&b=C+0.75,+Cr+5&at=960");
        Assert.Contains("The difference explained", page, StringComparison.Ordinal);
        Assert.Contains("chemistry in all", page, StringComparison.Ordinal);
        Assert.DoesNotContain("The difference explained", await Get("steel?a=C+0.90,+Cr+5&at=960"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("200")]
    [InlineData("200/x")]
    [InlineData("20/2")]
    [InlineData("200/2, 900/2")]
    public void A_temper_that_is_none_is_named(string typed)
    {
        (IReadOnlyList<Temper> tempers, string? fault) = SteelInput.ReadTempers(typed);
        Assert.Empty(tempers);
        Assert.Contains("is not a temper", fault, StringComparison.Ordinal);
    }

    // Published data table of AISI M2, read (see PublishedTemperCurveTests): 64.5 HRC after two tempers of 2 h at 1050 °F (565.6 °C) from 2200 °F (1204.4 °C).
    [Fact]
    public async Task A_high_temper_of_a_grade_with_a_published_curve_has_its_hardness_and_names_it()
    {
        string page = await Get("steel?a=C+0.85,+Mn+0.28,+Si+0.3,+Cr+4.15,+Mo+5,+V+1.85,+W+6.15&at=1204.4&temper=565.6/2,+565.6/2");
        Assert.Equal(64.5, Hardness(page, "hardness as tempered"), 0.05);
        Assert.Contains("tempered, by the published curve of M2", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Untempered", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_short_soak_dissolves_less_and_says_whose_share_it_is()
    {
        string whole = await Get("steel?a=C+1.5,+Cr+12,+Mo+0.8,+V+0.9&at=1040"), part = await Get("steel?a=C+1.5,+Cr+12,+Mo+0.8,+V+0.9&at=1040&undissolved=30");
        Assert.True(Hardness(part, "carbon in austenite") < Hardness(whole, "carbon in austenite"));
        Assert.True(Hardness(part, "carbides") > Hardness(whole, "carbides"));
        Assert.Contains("fixed by the user, no kinetic law", part, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Every_parameter_every_formula_and_every_model_is_named()
    {
        string page = WebUtility.HtmlDecode(await Get("steel?a=C+1.5,+Cr+12,+Mo+0.8,+V+0.9&at=1020"));
        foreach (string told in new[] { "Every parameter with its citation", "Thermodynamic properties of the Fe-Mn-V-C system", "Andrews, J. Iron Steel Inst. 203 (1965) 721", "Koistinen and Marburger", "error bar of the parameter set" })
            Assert.Contains(told, page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("a=C+60,+Cr+50&at=1020", "less than 100 mass percent")]
    [InlineData("a=C+-1&at=1020", "0 or more")]
    [InlineData("a=C+1,+C+2&at=1020", "two contents")]
    [InlineData("a=Xx+1&at=1020", "no such element")]
    [InlineData("a=C+50+ppm&at=1020", "cannot be read")]
    [InlineData("a=C+1&at=2000", "the models hold from 700 to 1250")]
    [InlineData("a=C+1&at=1020R", "is not a temperature")]
    [InlineData("a=C+1&at=1020&quench=-300", "the models hold from -200 to 300")]
    [InlineData("a=C+1&at=1020&temper=200", "is not a temper")]
    [InlineData("a=C+1&at=1020&undissolved=95", "is not an undissolved share")]
    [InlineData("a=C+9&at=1020", "the set can be used to 5")]
    public async Task What_cannot_be_computed_is_told_in_words(string typed, string told)
    {
        string page = WebUtility.HtmlDecode(await Get("steel?" + typed));
        Assert.Contains(told, page, StringComparison.Ordinal);
        Assert.DoesNotContain("Parameter '", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Quench and temper", page, StringComparison.Ordinal);
    }

    private static double Hardness(string page, string row)
    {
        Match found = Regex.Match(page, $"<td>{row}</td>.*?<span class=\"pref\">(?<hrc>[0-9.]+)</span>", RegexOptions.Singleline | RegexOptions.ExplicitCapture, TimeSpan.FromSeconds(1));
        Assert.True(found.Success, $"No {row} on the page.");
        return double.Parse(found.Groups["hrc"].Value, System.Globalization.CultureInfo.InvariantCulture);
    }

    private static async Task<string> Get(string address)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: []);
        using var client = new HttpClient { BaseAddress = workbench.Address };
        return WebUtility.HtmlDecode(await WorkDone.Page(client, "/own/" + address));
    }

    [GeneratedRegex(@"<td>A1: [^<]*</td>\s*<td class=""r pref"">(?<celsius>[0-9]+)</td>", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex A1();
}
