using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests;

/// <summary>The main job without a mouse, and without scripts. The names are invented; they check behaviour.</summary>
[Collection(BrowserCollection.Name)]
public sealed class KeyboardTests(Browser browser)
{
    private const int MostStops = 160;

    // Either an outline, or the heavy line under what is written on (also of the line that holds it).
    private const string FocusIsSeen = """
        () => { const e = document.activeElement, at = e.getBoundingClientRect();
          const heavy = x => x !== null && parseFloat(getComputedStyle(x).borderBottomWidth) >= 4;
          const seen = getComputedStyle(e).outlineStyle !== 'none' || heavy(e) || heavy(e.closest('.findline, .field'));
          return e === document.body ? '' : (seen && at.width > 0 && at.bottom > 0 && at.top < innerHeight ? 'seen ' : 'hidden ') + e.outerHTML.slice(0, 120); }
        """;

    [Fact]
    public async Task The_skip_link_leads_past_the_places()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/demo/enquiries/new");
        await page.Keyboard.PressAsync("Tab");
        await Expect(page.GetByRole(AriaRole.Link, new() { Name = "To the sheet" })).ToBeFocusedAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.Keyboard.PressAsync("Tab");
        await Expect(page.GetByLabel("Number")).ToBeFocusedAsync();
    }

    [Theory]
    [InlineData("")]
    [InlineData("enquiries/Q-07")]
    [InlineData("enquiries/Q-09/readings?property=impact%20energy")]
    [InlineData("planner?replicates=400")]
    [InlineData("study")]
    [InlineData("heats/U16")]
    public async Task Every_stop_of_the_tab_key_is_seen(string address)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await LongWork.WorkDone.Open(page, "/demo/" + address);
        List<string> hidden = [];
        int stops = 0;
        for (; stops < MostStops; stops++)
        {
            await page.Keyboard.PressAsync("Tab");
            string stop = await page.EvaluateAsync<string>(FocusIsSeen);
            if (stop.Length == 0)
            {
                break;
            }

            if (stop.StartsWith("hidden", StringComparison.Ordinal))
            {
                hidden.Add(stop);
            }
        }

        Assert.InRange(stops, 20, MostStops);
        Assert.True(hidden.Count == 0, string.Join('\n', hidden));
    }

    [Fact]
    public async Task A_question_is_asked_and_its_heats_are_named_without_a_mouse()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: []);
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/own/");
        await Reach(page, page.GetByRole(AriaRole.Link, new() { Name = "Ask a new question" }));
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("h1")).ToHaveTextAsync("A new question");
        await Reach(page, page.GetByLabel("Question"));
        await page.Keyboard.TypeAsync("Can bars from South replace bars from North?");
        await Reach(page, page.GetByRole(AriaRole.Button, new() { Name = "Open the enquiry" }));
        await page.Keyboard.PressAsync("Space");
        await Expect(page.Locator("h1")).ToHaveTextAsync("Can bars from South replace bars from North?");
        await Reach(page, page.Locator("#r-ref"));
        await page.Keyboard.TypeAsync("K17");
        await Reach(page, page.Locator("#r-cand"));
        await page.Keyboard.TypeAsync("M03");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("#heats table").First).ToContainTextAsync("M03");
    }

    [Fact]
    public async Task Without_scripts_a_question_is_asked_and_the_demonstration_is_read()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(own: []);
        IPage page = await browser.Page(workbench, scripts: false);
        await page.GotoAsync("/demo/enquiries/Q-07");
        await Expect(page.Locator(".outcome b")).ToHaveTextAsync("Equivalent");
        await Expect(page.Locator("#fig-verdict")).ToBeVisibleAsync();
        await page.GotoAsync("/demo/find");
        await page.Locator("main input[type=search]").FillAsync("U16");
        await page.Keyboard.PressAsync("Enter");
        await Expect(page.Locator("main")).ToContainTextAsync("EN ISO 4957");
        await page.GotoAsync("/own/enquiries/new");
        await page.GetByLabel("Question").FillAsync("Are the two alike?");
        await page.GetByRole(AriaRole.Button, new() { Name = "Open the enquiry" }).ClickAsync();
        await Expect(page.Locator("h1")).ToHaveTextAsync("Are the two alike?");
        await page.GotoAsync("/demo/planner?replicates=400&coupons=6");
        ILocator again = page.GetByRole(AriaRole.Link, new() { Name = "Load the page again" });
        for (int look = 0; look < MostStops && await again.CountAsync() > 0; look++)
        {
            await again.ClickAsync();
        }

        await Expect(page.Locator("main")).ToContainTextAsync("yes with a chance of");
    }

    private static async Task Reach(IPage page, ILocator stop)
    {
        for (int stops = 0; stops < MostStops; stops++)
        {
            if (await stop.EvaluateAsync<bool>("e => e === document.activeElement"))
            {
                return;
            }

            await page.Keyboard.PressAsync("Tab");
        }

        Assert.Fail($"The tab key does not reach {stop}.");
    }
}
