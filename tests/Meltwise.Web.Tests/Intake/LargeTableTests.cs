using System.Globalization;
using System.Text;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests.Intake;

/// <summary>A large table is read and stored beside the page; stopped half-way it leaves nothing on the bench. The rows are invented.</summary>
[Collection(BrowserCollection.Name)]
public sealed class LargeTableTests(Browser browser)
{
    private const int Heats = 1200;
    private const int CouponsAHeat = 50;

    [Fact]
    public async Task Storing_is_followed_and_stopped_without_a_trace_and_done_when_asked_again()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: []);
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/own/intake");
        await page.Locator("#in-file").SetInputFilesAsync(new FilePayload { Name = "history.csv", MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes(Table()) });
        await page.GetByRole(AriaRole.Button, new() { Name = "Look at it" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "The table reads clean." })).ToBeVisibleAsync(new() { Timeout = 60_000 });

        await page.GetByRole(AriaRole.Button, new() { Name = "Store it on the bench" }).ClickAsync();
        await Expect(page.Locator(".work-title")).ToHaveTextAsync("Storing of history.csv", new() { Timeout = 60_000 });
        await page.GetByRole(AriaRole.Button, new() { Name = "Stop it" }).ClickAsync();
        await Expect(page.Locator(".message")).ToContainTextAsync("Stopped. Nothing was stored.", new() { Timeout = 60_000 });
        Assert.Equal((0, 0), workbench.Own(b => (b.Card.Heats, b.Card.Coupons)));

        await page.GetByRole(AriaRole.Button, new() { Name = "Store it on the bench" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Stored." })).ToBeVisibleAsync(new() { Timeout = 120_000 });
        Assert.Equal((Heats, Heats * CouponsAHeat), workbench.Own(b => (b.Card.Heats, b.Card.Coupons)));
    }

    [Fact]
    public async Task What_is_said_of_the_columns_stays_in_the_address()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: []);
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/own/intake");
        await page.Locator("#in-file").SetInputFilesAsync(new FilePayload { Name = "odd.csv", MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes("heat,coupon,E\nK17,1,41.0\nK17,2,43.5\n") });
        await page.GetByRole(AriaRole.Button, new() { Name = "Look at it" }).ClickAsync();
        await page.GetByLabel("What E is taken for").FillAsync("impact energy [J]");
        await page.GetByRole(AriaRole.Button, new() { Name = "Take the columns so" }).ClickAsync();
        await Expect(page.GetByLabel("What E is taken for")).ToHaveValueAsync("impact energy [J]");
        await page.ReloadAsync();
        await Expect(page.GetByLabel("What E is taken for")).ToHaveValueAsync("impact energy [J]");
        await page.GetByRole(AriaRole.Button, new() { Name = "Store it on the bench" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Stored." })).ToBeVisibleAsync();
        Assert.Equal(["41.0 J", "43.5 J"], workbench.Own(b => b.Readings(new Domain.CouponKey("K17", "")).Select(r => r.Typed.ToString()).ToArray()));
    }

    [Fact]
    public async Task A_table_of_hot_histories_shows_its_columns_and_stands_on_the_card_of_its_heat()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: []);
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/own/intake");
        await page.Locator("#in-file").SetInputFilesAsync(new FilePayload { Name = "hot.csv", MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes("heat,step,temperature [°F],time [min],said by\nK17,consolidation,2100,180,the maker\nK17,forging,2000,30,\n") });
        await page.GetByRole(AriaRole.Button, new() { Name = "Look at it" }).ClickAsync();
        await Expect(page.GetByLabel("What temperature [°F] is taken for")).ToHaveValueAsync("from [°F]");
        await Expect(page.Locator(".lede")).ToContainTextAsync("2 good rows of the hot history of one");
        await page.GetByRole(AriaRole.Button, new() { Name = "Store it on the bench" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Stored." })).ToBeVisibleAsync();
        Assert.Equal(["consolidation", "forging"], workbench.Own(b => b.FindHotHistory("K17")!.Steps.Select(s => s.Kind).ToArray()));
        await page.GotoAsync("/own/heats/K17");
        await Expect(page.Locator("body")).ToContainTextAsync("consolidation 1148.9 °C 3 h; forging 1093.3 °C 0.5 h");
    }

    private static string Table()
    {
        var table = new StringBuilder("heat,coupon,source,grade,route,orientation,geometry,hardness [HRC],impact energy [J]\n");
        for (int heat = 1; heat <= Heats; heat++)
        {
            for (int coupon = 1; coupon <= CouponsAHeat; coupon++)
            {
                table.Append(CultureInfo.InvariantCulture, $"B{heat},{coupon},North,AISI M4,powder,L,unnotched 7×10×55,{61 + (0.1 * (coupon % 9)):0.0},{38 + (0.3 * (coupon % 17)):0.0}\n");
            }
        }

        return table.ToString();
    }
}
