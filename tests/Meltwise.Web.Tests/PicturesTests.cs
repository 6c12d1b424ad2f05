using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Meltwise.Casework.Recording;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests;

/// <summary>A micrograph is brought in, measured and drawn over. The picture is made here: 24 discs of known size on a dark ground.</summary>
[Collection(BrowserCollection.Name)]
public sealed class PicturesTests(Browser browser)
{
    private const int Width = 600, Height = 400, Radius = 12;

    [Fact]
    public async Task The_discs_of_a_drawn_picture_are_found_counted_and_outlined()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await Bring(page, heat: null);

        await Expect(page.Locator("h1")).ToContainTextAsync("24");
        await Expect(page.Locator(".viewer")).ToHaveAttributeAsync("data-drawn", "24");
        await Expect(page.Locator("#sizes")).ToContainTextAsync("µm");
        // 441 pixels of 0.1 µm make the disc that lies there.
        await page.Locator(".viewer canvas").ClickAsync(new() { Position = await At(page, 250, 150) });
        await Expect(page.Locator(".says")).ToContainTextAsync("diameter 2.37\u00A0µm");
        Assert.Empty(await Audit(page));
    }

    [Fact]
    public async Task The_keyboard_alone_moves_the_picture_and_reaches_the_largest_particle()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await Bring(page, heat: null);
        ILocator canvas = page.Locator(".viewer canvas");
        await Expect(page.Locator(".viewer")).ToHaveAttributeAsync("data-drawn", "24");
        await canvas.FocusAsync();
        await canvas.PressAsync("+");
        await canvas.PressAsync("+");
        await canvas.PressAsync("+");
        await canvas.PressAsync("ArrowRight");
        await Expect(page.Locator(".viewer")).Not.ToHaveAttributeAsync("data-drawn", "24");
        await canvas.PressAsync("l");
        await Expect(page.Locator(".says")).ToContainTextAsync("Particle");
        await canvas.PressAsync("Escape");
        await canvas.PressAsync("0");
        await Expect(page.Locator(".viewer")).ToHaveAttributeAsync("data-drawn", "24");
    }

    [Fact]
    public async Task A_setting_answers_on_a_preview_and_then_in_full()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await Bring(page, heat: null);
        await page.Locator("#q-min").FillAsync("2000");
        await Expect(page.Locator(".says")).ToContainTextAsync("Preview: 0 particles");
        await page.Locator("#q-min").FillAsync("100");
        await Expect(page.Locator(".says")).ToContainTextAsync("Preview: 24 particles");
        await page.GetByRole(AriaRole.Button, new() { Name = "Measure in full" }).ClickAsync();
        await Expect(page.Locator("h1")).ToContainTextAsync("24");
        Assert.Contains("minimum=100", page.Url, StringComparison.Ordinal);
    }

    // 225 discs on 2.25 megapixels: more than is tried at once, so the middle of the view is.
    [Fact]
    public async Task Of_a_large_picture_the_framed_part_is_tried_and_the_whole_is_measured()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await Bring(page, heat: null, content: PictureSetsTests.Field(12, 1500));
        await Expect(page.Locator("h1")).ToContainTextAsync("225");
        await page.Locator("#q-min").FillAsync("100");
        await Expect(page.Locator(".says")).ToContainTextAsync("Preview of the framed part");
        await Expect(page.Locator(".says")).Not.ToContainTextAsync("225");
        await page.GetByRole(AriaRole.Button, new() { Name = "Measure in full" }).ClickAsync();
        await Expect(page.Locator("h1")).ToContainTextAsync("225");
    }

    [Fact]
    public async Task An_area_is_left_out_by_dragging_or_by_writing_and_needs_its_reason()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await Bring(page, heat: null);
        await page.GetByRole(AriaRole.Button, new() { Name = "Leave out" }).ClickAsync();
        Position from = await At(page, 2, 2), to = await At(page, 198, 198);
        LocatorBoundingBoxResult box = (await page.Locator(".viewer canvas").BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(box.X + from.X, box.Y + from.Y);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(box.X + to.X, box.Y + to.Y, new() { Steps = 4 });
        await page.Mouse.UpAsync();
        ILocator line = page.Locator("#out-0");
        await Expect(line).ToBeFocusedAsync();
        await Expect(line).ToHaveValueAsync(new System.Text.RegularExpressions.Regex("^[123],[123],19[4-8],19[4-8]: $", System.Text.RegularExpressions.RegexOptions.None, TimeSpan.FromSeconds(1)));
        await page.Keyboard.TypeAsync("stain");
        await Expect(page.Locator(".says")).ToContainTextAsync("Preview: 20 particles");
        await page.GetByRole(AriaRole.Button, new() { Name = "Measure in full" }).ClickAsync();
        await Expect(page.Locator("h1")).ToContainTextAsync("20");
        await Expect(page.Locator(".notes").First).ToContainTextAsync("stain");
        await page.Locator("#out-1").FillAsync("300,0,100,100");
        await page.GetByRole(AriaRole.Button, new() { Name = "Measure in full" }).ClickAsync();
        await Expect(page.Locator(".wrong")).ToContainTextAsync("gives no reason");
    }

    [Fact]
    public async Task A_picture_is_kept_on_the_bench_with_its_measurement_and_found_on_the_heat_card()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: [new BenchChange.PutHeat(new("K17", null, null, null))]);
        IPage page = await browser.Page(workbench);
        await Bring(page, heat: "K17", bench: "own");
        await Expect(page.Locator(".folio")).ToContainTextAsync("Picture P-1");
        await page.GetByRole(AriaRole.Button, new() { Name = "Keep this measurement" }).ClickAsync();
        await Expect(page.Locator("#record .state")).ToHaveTextAsync("this measurement is kept");
        await page.GotoAsync("/own/heats/K17");
        await Expect(page.Locator("#pictures")).ToContainTextAsync("24 particles");
        Assert.Equal(0.1, workbench.Own(b => b.FindPicture("P-1")!.MicrometresPerPixel));
        // The same file again is refused by name.
        await Bring(page, heat: "K17", bench: "own");
        await Expect(page.Locator("#message")).ToContainTextAsync("the same file as picture P-1");
        await page.GotoAsync("/own/pictures/P-1");
        await page.Locator("summary", new() { HasText = "Set it aside" }).ClickAsync();
        await page.Locator("#r-aside").FillAsync("out of focus");
        await page.GetByRole(AriaRole.Button, new() { Name = "Set it aside" }).ClickAsync();
        await Expect(page.Locator(".first-line")).ToContainTextAsync("out of focus");
        Assert.Empty(await Audit(page));
    }

    [Fact]
    public async Task Table_mask_settings_and_original_can_be_taken_along()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(pictures: true);
        IPage page = await browser.Page(workbench);
        foreach ((string file, string kind) in (ValueTuple<string, string>[])[("particles.csv", "text/csv"), ("mask.png", "image/png"), ("settings.json", "application/json"), ("original", "application/octet-stream"), ("small.png", "image/png")])
        {
            IAPIResponse answer = await page.APIRequest.GetAsync($"/demo/pictures/P-1/{file}");
            Assert.Equal(200, answer.Status);
            Assert.StartsWith(kind, answer.Headers["content-type"], StringComparison.Ordinal);
        }

        Assert.Equal(404, (await page.APIRequest.GetAsync("/demo/pictures/P-99/original")).Status);
        Assert.Equal(404, (await page.APIRequest.GetAsync("/demo/pictures/..%2F..%2Fdemo.meltwise/original")).Status);
    }

    [Fact]
    public async Task A_file_that_is_no_picture_is_named_as_such()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/demo/pictures");
        await page.Locator("#p-file").SetInputFilesAsync(new FilePayload { Name = "notes.png", MimeType = "image/png", Buffer = "no picture"u8.ToArray() });
        await page.GetByRole(AriaRole.Button, new() { Name = "Measure it" }).ClickAsync();

        await Expect(page.Locator("h1")).ToHaveTextAsync("This is no picture that can be read.");
    }

    private static async Task Bring(IPage page, string? heat, string bench = "demo", byte[]? content = null)
    {
        await page.GotoAsync($"/{bench}/pictures");
        await page.Locator("#p-file").SetInputFilesAsync(new FilePayload { Name = "discs.png", MimeType = "image/png", Buffer = content ?? Discs() });
        await page.Locator("#p-scale").FillAsync("0.1");
        if (heat is not null)
        {
            await page.Locator("#r-heat").SelectOptionAsync(heat);
        }

        await page.GetByRole(AriaRole.Button, new() { Name = "Measure it" }).ClickAsync();
    }

    // Where a place of the picture lies in the canvas while the whole picture is shown.
    private static async Task<Position> At(IPage page, double x, double y)
    {
        LocatorBoundingBoxResult box = (await page.Locator(".viewer canvas").BoundingBoxAsync())!;
        double zoom = Math.Min(box.Width / Width, box.Height / Height);
        return new() { X = (float)((box.Width - (Width * zoom)) / 2 + (x * zoom)), Y = (float)((box.Height - (Height * zoom)) / 2 + (y * zoom)) };
    }

    private static async Task<IEnumerable<string>> Audit(IPage page)
    {
        AxeResult audit = await page.RunAxe(new AxeRunOptions { RunOnly = new RunOnlyOptions { Type = "tag", Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] } });
        return audit.Violations.SelectMany(v => v.Nodes.Select(n => $"{v.Id}: {n.Html}"));
    }

    private static byte[] Discs()
    {
        byte[] pixels = new byte[Width * Height];
        for (int y = 0; y < Height; y++)
        {
            for (int x = 0; x < Width; x++)
            {
                double dx = (x % 100) - 50;
                double dy = (y % 100) - 50;
                pixels[(y * Width) + x] = (dx * dx) + (dy * dy) <= Radius * Radius ? (byte)210 : (byte)60;
            }
        }

        using NetVips.Image picture = NetVips.Image.NewFromMemory(pixels, Width, Height, 1, NetVips.Enums.BandFormat.Uchar);
        return picture.WriteToBuffer(".png");
    }
}
