using System.Text.RegularExpressions;
using Xunit;

namespace Meltwise.Web.Tests.LongWork;

/// <summary>Pages whose numbers take a while: shown when done, the same numbers when asked again, refused in words.</summary>
public sealed partial class PagesWithWorkTests
{
    [Fact]
    public async Task The_planner_gives_the_same_odds_when_it_is_asked_again()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: []);
        using var client = new HttpClient { BaseAddress = workbench.Address };
        const string Plan = "/own/planner?margin=25%25&cv=0.12&heatcv=0.06&coupons=20&heats=3";
        string first = await WorkDone.Page(client, Plan), second = await WorkDone.Page(client, Plan);
        Assert.Contains("id=\"odds-ratio\"", first, StringComparison.Ordinal);
        Assert.Equal(Table().Match(first).Value, Table().Match(second).Value);
    }

    [Fact]
    public async Task Work_on_one_bench_is_not_seen_on_the_other()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(own: []);
        using var client = new HttpClient { BaseAddress = workbench.Address };
        await WorkDone.Page(client, "/own/planner");
        string told = await client.GetStringAsync(new Uri("/demo/work/1.json", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Contains("It has ended.", told, StringComparison.Ordinal);
    }

    [GeneratedRegex("<section class=\"part [^>]*id=\"odds\".*?</section>", RegexOptions.Singleline, 1000)]
    private static partial Regex Table();
}
