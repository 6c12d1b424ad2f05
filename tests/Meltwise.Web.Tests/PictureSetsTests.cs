using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests;

/// <summary>Two sets of drawn pictures are brought in, looked at blind, and judged once the key is open. The candidate's discs are larger by half.</summary>
[Collection(BrowserCollection.Name)]
public sealed class PictureSetsTests(Browser browser)
{
    [Fact]
    public async Task Sets_are_shown_blind_and_judged_when_the_key_is_open()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await Bring(page, [Field(10, 400), Field(10.3, 400), Field(9.8, 400)], [Field(15, 400), Field(15.3, 400), Field(14.7, 400)]);

        await Expect(page.Locator("h1")).ToHaveTextAsync("Two sets of pictures, the key closed");
        await Expect(page.Locator("#fields .micrograph")).ToHaveCountAsync(6);
        await Expect(page.Locator("main")).Not.ToContainTextAsync("Candidate");

        await page.GetByRole(AriaRole.Link, new() { Name = "Open the key and judge" }).ClickAsync();
        await Expect(page.Locator("#outcome tbody tr", new() { HasText = "area fraction" })).ToContainTextAsync("higher by more than the margin");
        await Expect(page.Locator("#outcome tbody tr", new() { HasText = "mean diameter" })).ToContainTextAsync("1.50");
        await Expect(page.Locator("#outcome tbody tr", new() { HasText = "particles per area" })).ToContainTextAsync("no verdict");
        await Expect(page.Locator("#shown .micrograph")).ToHaveCountAsync(4);
        await Expect(page.Locator("#shown .length").First).ToHaveTextAsync("10\u00A0µm");
        await Expect(page.Locator("#fields tbody tr")).ToHaveCountAsync(6);
        AxeResult audit = await page.RunAxe(new AxeRunOptions { RunOnly = new RunOnlyOptions { Type = "tag", Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] } });
        Assert.Empty(audit.Violations.SelectMany(v => v.Nodes.Select(n => $"{v.Id}: {n.Html}")));
    }

    [Fact]
    public async Task Fields_of_other_size_are_refused_by_name()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await Bring(page, [Field(10, 400), Field(11, 400)], [Field(10.5, 400), Field(10.6, 300)]);
        await Expect(page.Locator("h1")).ToHaveTextAsync("These sets cannot be compared");
        await Expect(page.Locator("#message")).ToContainTextAsync("fields must be of one size");
        await Expect(page.Locator("#message")).ToContainTextAsync(".png");
    }

    [Fact]
    public async Task One_picture_in_both_sets_is_refused()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await Bring(page, [Field(10, 400), Field(11, 400)], [Field(10, 400), Field(12, 400)]);
        await Expect(page.Locator("#message")).ToContainTextAsync("One picture was given twice");
    }

    private static async Task Bring(IPage page, byte[][] reference, byte[][] candidate)
    {
        await page.GotoAsync("/demo/pictures");
        await page.Locator("#s-reference").SetInputFilesAsync(reference.Select((b, i) => new FilePayload { Name = $"reference-{i}.png", MimeType = "image/png", Buffer = b }));
        await page.Locator("#s-candidate").SetInputFilesAsync(candidate.Select((b, i) => new FilePayload { Name = $"candidate-{i}.png", MimeType = "image/png", Buffer = b }));
        await page.Locator("#s-scale").FillAsync("0.1");
        await page.GetByRole(AriaRole.Button, new() { Name = "Compare them" }).ClickAsync();
    }

    internal static byte[] Field(double radius, int side)
    {
        byte[] pixels = new byte[side * side];
        for (int i = 0; i < pixels.Length; i++)
        {
            double dx = (i % side % 100) - 50;
            double dy = (i / side % 100) - 50;
            pixels[i] = (dx * dx) + (dy * dy) <= radius * radius ? (byte)210 : (byte)60;
        }

        using NetVips.Image picture = NetVips.Image.NewFromMemory(pixels, side, side, 1, NetVips.Enums.BandFormat.Uchar);
        return picture.WriteToBuffer(".png");
    }
}
