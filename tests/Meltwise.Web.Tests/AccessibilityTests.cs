using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Meltwise.Web.Tests.LongWork;
using Microsoft.Playwright;
using Xunit;

namespace Meltwise.Web.Tests;

/// <summary>Every page of the demonstration bench against the axe rules for WCAG 2.2 A and AA, on light and dark paper.</summary>
[Collection(BrowserCollection.Name)]
public sealed class AccessibilityTests(Browser browser)
{
    private static readonly string[] s_rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

    private static readonly string[] s_pages =
    [
        "", "enquiries", "enquiries/new", "enquiries/Q-07", "enquiries/Q-08", "enquiries/Q-09/readings?property=impact%20energy", "heats", "heats/U16", "heats/U16/coupons/1", "readings", "instruments", "instruments/pendulum%2C%20150%20J", "instruments/hardness%20tester%201",
        "settings", "find?q=U1", "intake", "trend", "study", "pictures", "pictures/P-1", "pictures/compare", "steel", "steel?heat=U16&heat2=D07&at=1130&temper=200/2", "planner", "planner?enquiry=Q-08&replicates=400", "planner?property2=hardness&property3=bend%20strength&cv3=0.07&replicates=400", "planner?estimand=equal-hardness&ladder=3x1.5&replicates=400", "nothing-here", "no-such-place",
    ];

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task No_page_breaks_a_rule(bool dark)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(pictures: true);
        IPage page = await browser.Page(workbench, dark);
        var broken = new List<string>();
        foreach (string address in s_pages)
        {
            await WorkDone.Open(page, "/demo/" + address);

            // What is behind a summary counts too.
            await page.EvaluateAsync("document.querySelectorAll('details').forEach(d => d.open = true)");
            AxeResult result = await page.RunAxe(new AxeRunOptions { RunOnly = new RunOnlyOptions { Type = "tag", Values = [.. s_rules] } });
            Assert.NotEmpty(result.Passes);
            broken.AddRange(result.Violations.SelectMany(v => v.Nodes.Select(n => $"/{address}: {v.Id}: {n.Html[..Math.Min(160, n.Html.Length)]}")));
        }

        Assert.True(broken.Count == 0, string.Join('\n', broken));
    }

    [Fact]
    public async Task Every_page_says_that_the_demonstration_is_invented()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        using var client = new HttpClient { BaseAddress = workbench.Address };
        foreach (string address in s_pages)
        {
            using HttpResponseMessage answer = await client.GetAsync(new Uri("/demo/" + address, UriKind.Relative), TestContext.Current.CancellationToken);
            string page = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
            Assert.True(page.Contains("Names and numbers are invented.", StringComparison.Ordinal), $"/{address} does not say it");
        }
    }

    [Theory]
    [InlineData(1024)]
    [InlineData(900)]
    public async Task No_page_is_wider_than_a_tablet(int tablet)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(pictures: true);
        IPage page = await browser.Page(workbench, width: tablet);
        var wide = new List<string>();
        foreach (string address in s_pages)
        {
            await WorkDone.Open(page, "/demo/" + address);
            int width = await page.EvaluateAsync<int>("document.documentElement.scrollWidth");
            if (width > tablet)
            {
                wide.Add($"/{address}: {width} px");
            }
        }

        Assert.True(wide.Count == 0, string.Join('\n', wide));
    }
}
