using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests.Enquiries;

/// <summary>What a report needs beside readings, as a person writes it in the browser: custody, fracture origins, people. The names are invented; they check behaviour.</summary>
[Collection(BrowserCollection.Name)]
public sealed class ReportRecordsTests(Browser browser)
{
    private static readonly BenchChange[] s_bench =
    [
        new BenchChange.PutHeat(new Heat("K17", null, null, null)),
        new BenchChange.PutHeat(new Heat("M03", null, null, null)),
        new BenchChange.PutCoupon(new Coupon("K17", "1", "L", Code: "X3H")),
        new BenchChange.PutCoupon(new Coupon("M03", "1", "L", Code: "P7K")),
        new BenchChange.PutEnquiry(new Enquiry { Name = "E-1", Title = "Are the two alike?", ReferenceHeats = ["K17"], CandidateHeats = ["M03"], Rule = new DecisionRule { Property = "impact energy", Margin = new Domain.Margin.Ratio(0.8, 1.25) } }),
    ];

    [Fact]
    public async Task Custody_is_written_down_and_corrected_with_a_reason()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: s_bench);
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/own/heats/K17");
        await Expect(page.Locator("#custody")).ToContainTextAsync("Nothing is recorded of how the material came");
        await Fill(page, "Write down how it came", ("k-day", "2026-03-02"), ("k-from", "a carrier"), ("k-kept", "half a bar"), ("k-until", "2031-03-31"));
        await Expect(page.Locator("#custody")).ToContainTextAsync("2\u00A0Mar\u00A02026, from a carrier");
        Assert.Equal(("half a bar", new DateOnly(2031, 3, 31)), workbench.Own(b => (b.Custody("K17")[0].Retained, b.Custody("K17")[0].RetainedUntil!.Value)));

        await Fill(page, "Correct the custody", ("k-kept", "two thirds of a bar"));
        await Expect(page.Locator("#custody")).ToContainTextAsync("a reason must be given");
        await Fill(page, null, ("k-why", "weighed again"));
        await Expect(page.Locator("#custody")).ToContainTextAsync("two thirds of a bar");
        await Expect(page.Locator("#trail")).ToContainTextAsync("weighed again");
    }

    [Fact]
    public async Task Fracture_origins_are_recorded_for_all_coupons_at_once_and_corrected_on_the_coupon()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: s_bench);
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/own/enquiries/E-1");
        await page.GetByText("Record where fractures began").ClickAsync();
        await page.GetByLabel("Origin of X3H", new() { Exact = true }).SelectOptionAsync("inclusion");
        await page.GetByLabel("Size of the origin of X3H, µm").FillAsync("0.03 mm");
        await page.GetByLabel("Position of P7K").FillAsync("slice 4");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep the origins" }).ClickAsync();
        await Expect(page.GetByText("1 of 2 coupons examined")).ToBeVisibleAsync();
        Assert.Equal(new FractureOrigin(new("K17", "1"), OriginKind.Inclusion, 30), Assert.Single(workbench.Own(b => b.FractureOrigins())));
        Assert.Equal("slice 4", workbench.Own(b => b.Coupons("M03")[0].Position));

        await page.GotoAsync("/own/heats/K17/coupons/1");
        await page.GetByText("Position, hardness, fracture origin").ClickAsync();
        await page.Locator("#f-moment").SelectOptionAsync("AfterTest");
        await page.Locator("#f-kind").SelectOptionAsync("none seen");
        await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Main)).ToContainTextAsync("no origin was seen, yet it has a size");
        await page.Locator("#f-kind").SelectOptionAsync("pore");
        await page.Locator("#f-why").FillAsync("seen in the electron microscope");
        await page.GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
        await Expect(page.GetByRole(AriaRole.Main)).ToContainTextAsync("after the test");
        Assert.Equal((OriginKind.Pore, HardnessMoment.AfterTest), workbench.Own(b => (b.FractureOrigins()[0].Kind, b.Coupons("K17")[0].HardnessMoment!.Value)));
    }

    [Fact]
    public async Task People_are_named_a_line_each()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: s_bench);
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/own/enquiries/E-1");
        await page.GetByText("Name the people").ClickAsync();
        await page.Locator("#w-work").FillAsync("impact tests A. Tester");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep these names" }).ClickAsync();
        await Expect(page.Locator("#report")).ToContainTextAsync("does not part the work from who did it");
        await page.Locator("#w-work").FillAsync("impact tests: A. Tester\nchemistry: Chemlab Example, outside");
        await page.Locator("#w-int").FillAsync("none");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep these names" }).ClickAsync();
        await Expect(page.Locator("#report")).ToContainTextAsync("Chemlab Example, outside");
        Enquiry stored = workbench.Own(b => b.FindEnquiry("E-1")!);
        Assert.Equal([new("impact tests", "A. Tester"), new("chemistry", "Chemlab Example", true)], stored.Work);
        Assert.Equal("none", stored.ConflictsOfInterest);
    }

    [Fact]
    public async Task A_study_is_chosen_for_the_report_and_taken_out_again()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/demo/enquiries/Q-09");
        await page.GetByText("Choose a study for the report").ClickAsync();
        await page.Locator("#s-control").FillAsync("nitrided");
        await page.GetByRole(AriaRole.Button, new() { Name = "Compute it and keep it with the enquiry" }).ClickAsync();
        await Expect(page.Locator("#report")).ToContainTextAsync("Nothing was stored");
        await page.Locator("#s-control").FillAsync("punch");
        await page.GetByRole(AriaRole.Button, new() { Name = "Compute it and keep it with the enquiry" }).ClickAsync();
        await Expect(page.Locator("#report")).ToContainTextAsync("by treatment, against punch");
        string html = await page.APIRequest.GetAsync(new Uri(workbench.Address, "/demo/enquiries/Q-09/report.html").ToString()).ContinueWith(a => a.Result.TextAsync(), TaskScheduler.Default).Unwrap();
        Assert.Contains("Each treatment against punch", html, StringComparison.Ordinal);
        await page.GetByRole(AriaRole.Button, new() { Name = "Take it out of the report" }).ClickAsync();
        await Expect(page.Locator("#report")).ToContainTextAsync("No study belongs to this report");
    }

    private static async Task Fill(IPage page, string? open, params (string Id, string Text)[] lines)
    {
        if (open is not null)
        {
            await page.GetByText(open).ClickAsync();
        }

        foreach ((string id, string text) in lines)
        {
            await page.Locator("#" + id).FillAsync(text);
        }

        await page.Locator("#custody").GetByRole(AriaRole.Button, new() { Name = "Write it down" }).ClickAsync();
    }
}
