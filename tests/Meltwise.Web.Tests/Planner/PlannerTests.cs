using System.Net;
using System.Text;
using Meltwise.Web.Tests.LongWork;
using Xunit;

namespace Meltwise.Web.Tests.Planner;

/// <summary>The planner over http: what a plan can show, refusals in words, papers of the allocation.</summary>
public sealed class PlannerTests
{
    [Fact]
    public async Task An_enquiry_brings_its_rule_and_what_the_bench_knows()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        using var client = new HttpClient { BaseAddress = workbench.Address };
        string page = await WorkDone.Page(client, "/demo/planner?enquiry=Q-09&hardness=-1&replicates=400");
        Assert.Contains("for these lots at equal hardness", page, StringComparison.Ordinal);
        Assert.Contains("yes with a chance of", page, StringComparison.Ordinal);
        Assert.Contains("degrees of freedom, drawn anew each time", page, StringComparison.Ordinal);
        Assert.Contains("Answers for the two sources in general", page, StringComparison.Ordinal);
        Assert.Contains("Use this plan for Q-09", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("apart=yes", "Put both lots into every load")]
    [InlineData("room=8&coupons=9", "do not fit into 1 load of 8")]
    [InlineData("cv=a+lot", "is not a number from")]
    [InlineData("margin=1+HRC", "A margin in hardness needs the bench&#x27;s trend with hardness: nothing of this kind was tested before")]
    [InlineData("scatter=lent", "there is no scatter law to lend from")]
    [InlineData("estimand=equal-hardness", "needs the bench&#x27;s trend with hardness")]
    public async Task What_makes_no_plan_is_said(string typed, string said)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: []);
        using var client = new HttpClient { BaseAddress = workbench.Address };
        Assert.Contains(said, await WorkDone.Page(client, "/own/planner?replicates=400&" + typed), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Several_properties_are_planned_together_and_every_paper_names_them()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        using var client = new HttpClient { BaseAddress = workbench.Address };
        const string Plan = "?coupons=6&property2=hardness&property3=bend+strength&margin3=15%25&cv3=0.07&corr31=0.5&replicates=400";
        string page = await WorkDone.Page(client, "/demo/planner" + Plan);
        Assert.Contains("correlation with impact energy on one coupon 0.50, as typed", page, StringComparison.Ordinal);
        Assert.Contains("all together", page, StringComparison.Ordinal);
        Assert.Contains("3 properties together", page, StringComparison.Ordinal);
        foreach (string file in new[] { "bench-sheet.pdf", "labels.pdf" })
        {
            using UglyToad.PdfPig.PdfDocument paper = UglyToad.PdfPig.PdfDocument.Open(await client.GetByteArrayAsync(new Uri($"/demo/planner/{file}{Plan}", UriKind.Relative), TestContext.Current.CancellationToken));
            string text = string.Concat(paper.GetPages().SelectMany(p => p.Letters).Select(l => l.Value)).Replace(" ", "", StringComparison.Ordinal);
            Assert.All(new[] { "impactenergy", "hardness", "bendstrength" }, name => Assert.Contains(name, text, StringComparison.Ordinal));
        }
    }

    [Fact]
    public async Task A_temper_ladder_of_both_lots_is_planned_and_dealt_to_its_levels()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: []);
        using var client = new HttpClient { BaseAddress = workbench.Address };
        const string Plan = "?estimand=equal-hardness&ladder=62%3B60.5%3B59&hardness=0.4&slope=-0.09&coupons=3&spares=0&loads=2&replicates=400";
        string page = await WorkDone.Page(client, "/own/planner" + Plan);
        Assert.Contains("3 coupons a level, 3 levels", page, StringComparison.Ordinal);
        Assert.Contains("lines not parallel", page, StringComparison.Ordinal);
        string[] cutting = Encoding.UTF8.GetString(await client.GetByteArrayAsync(new Uri($"/own/planner/cutting-list.csv{Plan}", UriKind.Relative), TestContext.Current.CancellationToken)).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal("heat,blank,code,load,level", cutting[0]);
        Assert.All(cutting.Skip(1).GroupBy(line => (line.Split(',')[0], line.Split(',')[4])), level => Assert.Equal(3, level.Count()));
    }

    [Theory]
    [InlineData("ladder=62%3B60", "Type the slope of the ladder")]
    [InlineData("ladder=62&slope=-0.09", "is no ladder of the reference")]
    [InlineData("ladder=62%3B60&slope=-0.09", "only equal hardness is judged")]
    [InlineData("ladder=62%3B60&slope=-0.09&estimand=equal-hardness&hardness=9", "not expected to overlap")]
    [InlineData("ladder=62%3B60&slope=-0.09&estimand=equal-hardness&heats=2", "one heat a side")]
    [InlineData("slopeof=ladders&estimand=equal-hardness", "needs the bench&#x27;s trend with hardness")]
    public async Task What_makes_no_ladder_is_said(string typed, string said)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: []);
        using var client = new HttpClient { BaseAddress = workbench.Address };
        Assert.Contains(said, await WorkDone.Page(client, "/own/planner?replicates=400&" + typed), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("property2=bend+strength", "does not know how bend strength scatters")]
    [InlineData("property2=bend+strength&cv2=0.07&margin2=1.2", "Margin of bend strength")]
    [InlineData("property2=bend+strength&cv2=0.07&corr21=2", "Correlation of bend strength")]
    [InlineData("property2=impact+energy&cv2=0.07", "named twice")]
    [InlineData("property3=bend+strength&cv3=0.07", "bend strength (margin 0.80 to 1.25, scatter 0.07")]
    public async Task What_is_wrong_with_a_further_property_is_said(string typed, string said)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: []);
        using var client = new HttpClient { BaseAddress = workbench.Address };
        Assert.Contains(said, await WorkDone.Page(client, "/own/planner?replicates=400&" + typed), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Papers_of_an_allocation_are_the_same_for_the_same_seed()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: []);
        using var client = new HttpClient { BaseAddress = workbench.Address };
        const string Plan = "?coupons=6&loads=2&room=8&seed=7&reference=K17&candidate=M03";
        async Task<byte[]> Taken(string file) => await client.GetByteArrayAsync(new Uri($"/own/planner/{file}{Plan}", UriKind.Relative), TestContext.Current.CancellationToken);
        string cutting = Encoding.UTF8.GetString(await Taken("cutting-list.csv"));
        Assert.Equal(1 + 2 * 7, cutting.Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.Equal(cutting, Encoding.UTF8.GetString(await Taken("cutting-list.csv")));
        Assert.Equal("%PDF", Encoding.ASCII.GetString((await Taken("bench-sheet.pdf"))[..4]));
        Assert.Equal("%PDF", Encoding.ASCII.GetString((await Taken("labels.pdf"))[..4]));
        string code = cutting.Split("\r\n")[1].Split(',')[2];
        Assert.Contains(code, Encoding.UTF8.GetString(await Taken("sealed-key.json")), StringComparison.Ordinal);
        using HttpResponseMessage refused = await client.GetAsync(new Uri("/own/planner/labels.pdf?coupons=2&loads=4&spares=0", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.Conflict, refused.StatusCode);
    }
}
