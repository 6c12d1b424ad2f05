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
