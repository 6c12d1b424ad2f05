using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Meltwise.Casework.Recording;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests.Enquiries;

/// <summary>The pictures of an enquiry: brought in, asked with a margin, measured blind, judged when the key is open. The pictures are drawn here; the candidate's discs are larger by half.</summary>
[Collection(BrowserCollection.Name)]
public sealed class StructurePartTests(Browser browser)
{
    [Fact]
    public async Task Pictures_are_asked_measured_blind_and_judged_when_the_key_is_open()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own:
        [
            new BenchChange.PutHeat(new("K17", null, null, null)), new BenchChange.PutHeat(new("M03", null, null, null)),
            new BenchChange.PutEnquiry(new() { Name = "E-1", Title = "Same?", ReferenceHeats = ["K17"], CandidateHeats = ["M03"] }),
        ]);
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/own/enquiries/E-1");
        await Expect(page.Locator("#structure")).ToContainTextAsync("No picture shows a heat of this enquiry yet");
        await Bring(page, "K17", [10, 10.3, 9.8]);
        await Bring(page, "M03", [15, 15.3, 14.7]);

        await page.GotoAsync("/own/enquiries/E-1");
        await page.Locator("#s-low").FillAsync("0.8");
        await page.GetByRole(AriaRole.Button, new() { Name = "Ask", Exact = true }).ClickAsync();
        await Expect(page.Locator("#structure .state")).ToHaveTextAsync("asked, not measured");
        await page.GetByRole(AriaRole.Button, new() { Name = "Measure them blind" }).ClickAsync();
        await Expect(page.Locator("#structure .micrograph")).ToHaveCountAsync(6);
        await Expect(page.Locator("#structure .body")).Not.ToContainTextAsync("M03");
        Assert.Empty(await Audit(page));

        await page.GetByRole(AriaRole.Button, new() { Name = "Open the key and judge" }).ClickAsync();
        await Expect(page.Locator("#structure tbody tr", new() { HasText = "mean diameter" }).First).ToContainTextAsync("1.50");
        await Expect(page.Locator("#structure tbody tr", new() { HasText = "area fraction" }).First).ToContainTextAsync("higher by more than the margin");
        await Expect(page.Locator("#structure .fieldpair .micrograph")).ToHaveCountAsync(4);
        Assert.Empty(await Audit(page));
        Assert.NotNull(workbench.Own(b => b.FindEnquiry("E-1")!.Structure!.OpenedAtUtc));
    }

    [Fact]
    public async Task The_demonstration_shows_the_structure_of_its_first_enquiry()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(pictures: true);
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/demo/enquiries/Q-07");
        await Expect(page.Locator("#structure tbody tr", new() { HasText = "mean diameter" }).First).ToContainTextAsync("equivalent, real but immaterial");
        await Expect(page.Locator("#structure")).ToContainTextAsync("9 fields of 3 mounts");
    }

    private static async Task Bring(IPage page, string heat, double[] radii)
    {
        await page.GotoAsync("/own/pictures");
        await page.Locator("#p-file").SetInputFilesAsync(radii.Select((r, i) => new FilePayload { Name = $"{heat}-{i}.png", MimeType = "image/png", Buffer = PictureSetsTests.Field(r, 400) }));
        await page.Locator("#r-heat").SelectOptionAsync(heat);
        await page.Locator("#p-scale").FillAsync("0.1");
        await page.GetByRole(AriaRole.Button, new() { Name = "Measure it" }).ClickAsync();
        await Expect(page.Locator(".pictures tbody tr")).ToHaveCountAsync(3);
    }

    private static async Task<IEnumerable<string>> Audit(IPage page)
    {
        AxeResult audit = await page.RunAxe(new AxeRunOptions { RunOnly = new RunOnlyOptions { Type = "tag", Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] } });
        return audit.Violations.SelectMany(v => v.Nodes.Select(n => $"{v.Id}: {n.Html}"));
    }
}
