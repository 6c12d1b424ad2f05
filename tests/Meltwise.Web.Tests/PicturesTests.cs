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
        await page.GotoAsync("/demo/pictures");
        await page.Locator("#p-file").SetInputFilesAsync(new FilePayload { Name = "discs.png", MimeType = "image/png", Buffer = Discs() });
        await page.Locator("#p-scale").FillAsync("0.1");
        await page.GetByRole(AriaRole.Button, new() { Name = "Measure it" }).ClickAsync();

        await Expect(page.Locator("h1")).ToContainTextAsync("24");
        await Expect(page.Locator(".picture ellipse")).ToHaveCountAsync(24);
        await Expect(page.Locator("#sizes")).ToContainTextAsync("µm");
        Assert.True(await page.EvaluateAsync<int>("document.querySelector('.picture img').naturalWidth") > 0);
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
