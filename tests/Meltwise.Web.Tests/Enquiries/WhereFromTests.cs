using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests.Enquiries;

/// <summary>A number of the verdict is asked where it comes from: method and literature, readings, instruments, history, version.</summary>
[Collection(BrowserCollection.Name)]
public sealed class WhereFromTests(Browser browser)
{
    [Fact]
    public async Task An_estimate_leads_to_its_method_and_from_there_to_a_reading_and_its_instrument()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/demo/enquiries/Q-07");
        await page.GetByRole(AriaRole.Link, new() { NameRegex = new Regex("where from\\?", RegexOptions.None, TimeSpan.FromSeconds(1)) }).First.ClickAsync();
        await Expect(page.Locator("#where-a")).ToBeVisibleAsync();
        ILocator terms = page.Locator("#where-from");
        await Expect(terms).ToContainTextAsync("Welch 1947");
        await Expect(terms).ToContainTextAsync("pendulum, 150 J");
        await Expect(terms).ToContainTextAsync("verified to 30\u00A0Nov\u00A02026");
        await Expect(terms).ToContainTextAsync("Meltwise");
        Assert.Equal(24, await terms.Locator("a[href*='/coupons/']").CountAsync());

        await terms.Locator("a[href*='/coupons/']").First.ClickAsync();
        await Expect(page.Locator("table").First).ToContainTextAsync("pendulum, 150 J");
        await page.GoBackAsync();
        IAPIResponse whole = await page.APIRequest.GetAsync("/demo/enquiries/Q-07/verdict.json");
        Assert.Equal("application/json; charset=utf-8", whole.Headers["content-type"]);
        Assert.Contains("meltwise-verdict-1", await whole.TextAsync(), StringComparison.Ordinal);
    }
}
