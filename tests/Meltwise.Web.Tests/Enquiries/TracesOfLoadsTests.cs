using System.Text;
using Meltwise.Web.Tests.Readings;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests.Enquiries;

/// <summary>A furnace trace is brought in for a load of an enquiry, drawn with its soak, given back as it came, and set aside with a reason.</summary>
[Collection(BrowserCollection.Name)]
public sealed class TracesOfLoadsTests(Browser browser)
{
    private const string File = "time [min],load [°C]\n0,950\n20,1150\n25,1163\n30,650\n";

    [Fact]
    public async Task A_trace_is_brought_in_drawn_given_back_and_set_aside()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: SmallBench.Changes());
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/own/enquiries/E-1");
        await page.GetByText("Bring in a furnace trace").ClickAsync();
        await page.Locator("#ft-set").FillAsync("1150");
        await page.Locator("#ft-step").FillAsync("austenitize");
        await page.Locator("#ft-file").SetInputFilesAsync(new FilePayload { Name = "run 7.csv", MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes(File) });
        await page.GetByRole(AriaRole.Button, new() { Name = "Bring it in" }).ClickAsync();
        await Expect(page.Locator("#treatment .message")).ToContainTextAsync("T-1: austenitize at 1150 ± 10 °C: 6.2 min at temperature, highest 1163 °C.");
        await Expect(page.Locator("#treatment .message")).ToContainTextAsync("Overshoot: 13 °C beyond the set value");
        await Expect(page.Locator("#fig-trace-T-1").First).ToBeVisibleAsync();
        string given = await (await page.APIRequest.GetAsync(new Uri(workbench.Address, "/own/traces/T-1/file").ToString())).TextAsync();
        Assert.Equal(File, given);

        await page.GetByText("Set T-1 aside").ClickAsync();
        await page.Locator("#fa-T-1").FillAsync("wrong thermocouple");
        await page.GetByRole(AriaRole.Button, new() { Name = "Set it aside" }).ClickAsync();
        await Expect(page.Locator("#treatment")).ToContainTextAsync("T-1 of load 1 was set aside: wrong thermocouple");
        await Expect(page.Locator("#fig-trace-T-1")).ToHaveCountAsync(0);
        Assert.Equal("wrong thermocouple", workbench.Own(b => b.FurnaceTraces().Single().SetAside));
    }

    [Fact]
    public async Task A_file_that_is_no_trace_is_told_and_nothing_kept()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: SmallBench.Changes());
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/own/enquiries/E-1");
        await page.GetByText("Bring in a furnace trace").ClickAsync();
        await page.Locator("#ft-set").FillAsync("1150");
        await page.Locator("#ft-file").SetInputFilesAsync(new FilePayload { Name = "odd.csv", MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes("time [min],load [°C]\n0,950\nsoon,1150\n") });
        await page.GetByRole(AriaRole.Button, new() { Name = "Bring it in" }).ClickAsync();
        await Expect(page.Locator("#treatment .message")).ToContainTextAsync("odd.csv, row 3, column time [min]: found soon; expected a time in min. Nothing was stored.");
        Assert.Empty(workbench.Own(b => b.FurnaceTraces()));
    }
}
