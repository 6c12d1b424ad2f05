using System.Text;
using Microsoft.Playwright;
using UglyToad.PdfPig;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests;

/// <summary>The whole main job as a person does it in the browser: read the demonstration, start a bench, ask, lock, bring in tables, judge, take the report. The figures are invented; they check behaviour, not truth.</summary>
[Collection(BrowserCollection.Name)]
public sealed class MainJobTests(Browser browser)
{
    private const string Heading = "heat,coupon,source,grade,route,orientation,geometry,test temperature [°C],treatment,load,hardness [HRC],impact energy [J]\n";

    private static readonly double[] s_north = [61.2, 58.4, 63.0, 60.1, 59.5, 62.2, 57.8, 61.9];
    private static readonly double[] s_south = [60.4, 62.8, 58.9, 61.0, 59.2, 63.1, 60.7, 58.0];

    private static string Coupons => Heading + Rows("K17", "North", s_north) + Rows("M03", "South", s_south);

    private static string FaultyCoupons => Coupons.Replace(",61.2\n", ",-61.2\n", StringComparison.Ordinal).Replace(",60.4\n", ",sixty\n", StringComparison.Ordinal);

    private const string Chemistry = "heat,element,value,unit,method,laboratory,uncertainty\nK17,C,1.30,wt%,combustion,Lab 1,0.02\nM03,C,1.28,wt%,combustion,Lab 1,0.02\nM03,O,<20,ppm,inert gas fusion,Lab 1,\n";

    [Fact]
    public async Task From_a_question_to_a_report()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);

        await ReadTheDemonstration(page);
        await AskAndLock(page);
        await BringIn(page, "coupons.csv", FaultyCoupons);
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Two faults stand in the way." })).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Store it on the bench" }).ClickAsync();
        await Expect(page.Locator("#message")).ToContainTextAsync("Nothing was stored");
        Assert.Equal(0, workbench.Own(b => b.Card.Coupons));

        await BringInAndStore(page, "coupons.csv", Coupons);
        Assert.Equal(16, workbench.Own(b => b.Card.Coupons));
        await BringInAndStore(page, "chemistry.csv", Chemistry);

        await page.GotoAsync("/own/enquiries/E-1");
        await page.GetByRole(AriaRole.Button, new() { Name = "Judge by the rule" }).ClickAsync();
        await Expect(page.Locator(".outcome b")).ToHaveTextAsync("Equivalent");
        await Expect(page.Locator("#fig-verdict")).ToBeVisibleAsync();

        string report = await Take(page, "Take the PDF");
        Assert.Contains("E-1", report, StringComparison.Ordinal);
        Assert.Contains("Equivalent", report, StringComparison.Ordinal);
        Assert.Contains("K17", report, StringComparison.Ordinal);
        Assert.Contains("North", report, StringComparison.Ordinal);
        Assert.Contains("relates only to the items tested", report, StringComparison.Ordinal);

        string hidden = await Take(page, "Take the PDF, names hidden");
        Assert.Contains("Equivalent", hidden, StringComparison.Ordinal);
        Assert.DoesNotContain("North", hidden, StringComparison.Ordinal);
        Assert.DoesNotContain("Punch maker", hidden, StringComparison.Ordinal);
    }

    private static async Task ReadTheDemonstration(IPage page)
    {
        await page.GotoAsync("/");
        await Expect(page.Locator("footer")).ToContainTextAsync("Names and numbers are invented");
        await page.GetByRole(AriaRole.Link, new() { Name = "A second powder source for cold-forging punches" }).First.ClickAsync();
        await Expect(page.Locator("footer")).ToContainTextAsync("Names and numbers are invented");
        await page.GetByRole(AriaRole.Link, new() { Name = "To your own bench" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Start my own bench" }).ClickAsync();
        await Expect(page.Locator("footer")).ToContainTextAsync("Your own bench");
    }

    private static async Task AskAndLock(IPage page)
    {
        await page.GetByRole(AriaRole.Link, new() { Name = "Ask a new question" }).ClickAsync();
        await page.GetByLabel("Question").FillAsync("Can bars from South replace bars from North in punches?");
        await page.GetByLabel("Client").FillAsync("Punch maker");
        await page.GetByRole(AriaRole.Button, new() { Name = "Open the enquiry" }).ClickAsync();

        await page.Locator("#r-ref").FillAsync("K17");
        await page.Locator("#r-cand").FillAsync("M03");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep these roles" }).ClickAsync();
        await Expect(page.Locator("#heats")).ToContainTextAsync("candidate");

        await page.Locator("#WriteForm-margin").FillAsync("25%");
        await page.Locator("#rule").GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Lock the rule" }).ClickAsync();
        await Expect(page.Locator("#rule .forme .legend")).ToContainTextAsync("Locked");
    }

    private static async Task BringIn(IPage page, string name, string text)
    {
        await page.GotoAsync("/own/intake");
        await page.Locator("#in-file").SetInputFilesAsync(new FilePayload { Name = name, MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes(text) });
        await page.GetByRole(AriaRole.Button, new() { Name = "Look at it" }).ClickAsync();
    }

    private static async Task BringInAndStore(IPage page, string name, string text)
    {
        await BringIn(page, name, text);
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "The table reads clean." })).ToBeVisibleAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Store it on the bench" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Stored." })).ToBeVisibleAsync();
    }

    private static async Task<string> Take(IPage page, string link)
    {
        IDownload download = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = link, Exact = true }).ClickAsync());
        using PdfDocument pdf = PdfDocument.Open(await download.PathAsync());
        return string.Join('\n', pdf.GetPages().Select(p => string.Join(' ', p.GetWords().Select(w => w.Text))));
    }

    private static string Rows(string heat, string source, double[] energies) => string.Concat(energies.Select((e, i) => string.Create(
        System.Globalization.CultureInfo.InvariantCulture,
        $"{heat},{i + 1},{source},AISI M4,powder,L,unnotched 7×10×55,23,1150 °C oil 3×560 °C,{(i % 2) + 1},{62.4 + (0.1 * (i % 3)):0.0},{e:0.0}\n")));
}
