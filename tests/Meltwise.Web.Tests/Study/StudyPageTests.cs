using Xunit;

namespace Meltwise.Web.Tests.Study;

/// <summary>The study page over http: ordered levels with typed values, and what is wrong with them in words. The bench is invented.</summary>
public sealed class StudyPageTests
{
    private const string Study = "/demo/study?by=treatment&property=impact+energy&grade=EN+ISO+4957+HS6-5-3C+(powder)&route=powder&orientation=L&margin=25%25";

    private static async Task<string> Page(HttpClient client, string more) =>
        System.Net.WebUtility.HtmlDecode(await client.GetStringAsync(new Uri(Study + more, UriKind.Relative), TestContext.Current.CancellationToken)).Replace("\u00A0", " ", StringComparison.Ordinal);

    [Fact]
    public async Task Typed_values_of_ordered_levels_are_used_and_shown()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        using var client = new HttpClient { BaseAddress = workbench.Address };
        string page = await Page(client, "");
        const string Offered = "placeholder=\"";
        int at = page.IndexOf(Offered, page.IndexOf("name=\"levels\"", StringComparison.Ordinal), StringComparison.Ordinal) + Offered.Length;
        string[] treatments = page[at..page.IndexOf('"', at)].Split(" | ");
        Assert.True(treatments.Length > 2);
        string order = "&levels=" + Uri.EscapeDataString(string.Join(" | ", treatments.Take(3)));

        Assert.Contains("Levels are taken as equally spaced", await Page(client, order), StringComparison.Ordinal);
        string valued = await Page(client, order + "&values=" + Uri.EscapeDataString("520 | 540 | 580 °C"));
        Assert.Contains("Linear change per °C", valued, StringComparison.Ordinal);
        Assert.Contains($"{treatments[2]} at 580 °C", valued, StringComparison.Ordinal);
        Assert.Contains("neither rise nor fall", await Page(client, order + "&values=520+|+580+|+540"), StringComparison.Ordinal);
        Assert.Contains("and 2 values", await Page(client, order + "&values=520+|+580"), StringComparison.Ordinal);
        Assert.Contains("is no value of a level", await Page(client, order + "&values=cold+|+warm+|+hot"), StringComparison.Ordinal);
        Assert.Contains("name the levels in order", await Page(client, "&values=520+|+580"), StringComparison.Ordinal);
    }
}
