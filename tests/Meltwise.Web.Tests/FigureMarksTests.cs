using System.Text;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests;

/// <summary>A mark of a figure opens what it stands for, by pointer and by keyboard; a figure is taken along as picture, drawing and data.</summary>
[Collection(BrowserCollection.Name)]
public sealed class FigureMarksTests(Browser browser)
{
    [Theory]
    [InlineData("/demo/trend", "#trend", "/demo/heats/")]
    [InlineData("/demo/enquiries/Q-07", "#fig-verdict", "/coupons/")]
    [InlineData("/demo/enquiries/Q-07", "#fig-order", "/coupons/")]
    [InlineData("/demo/heats/U16", "#place", "/demo/heats/")]
    public async Task A_click_on_a_mark_opens_it(string address, string figure, string leadsTo)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await page.GotoAsync(address);
        // A face that comes late moves what stands under the pointer.
        await page.EvaluateAsync("() => document.fonts.ready.then(() => true)");
        ILocator mark = page.Locator($"{figure} a.mark").Nth(2);
        string name = (await mark.GetAttributeAsync("data-name"))!;
        string href = await mark.EvaluateAsync<string>("a => a.href.baseVal ?? a.href");
        await mark.ScrollIntoViewIfNeededAsync();

        // On the mark itself, as a hand does it; the middle of the element's box may lie beside it.
        double[] at = await mark.EvaluateAsync<double[]>("a => { const s = a.ownerSVGElement, p = s.createSVGPoint(); p.x = +a.dataset.cx; p.y = +a.dataset.cy; const q = p.matrixTransform(s.getScreenCTM()); return [q.x, q.y]; }");
        await page.Mouse.MoveAsync((float)at[0], (float)at[1]);
        await Expect(page.Locator($"figure:has({figure}) .figure-says b")).ToHaveTextAsync(name);
        await page.Mouse.ClickAsync((float)at[0], (float)at[1]);
        await page.WaitForURLAsync("**/" + href);
        Assert.Contains(leadsTo, page.Url, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("/demo/trend", "#trend")]
    [InlineData("/demo/enquiries/Q-07", "#fig-verdict")]
    [InlineData("/demo/enquiries/Q-07", "#fig-order")]
    public async Task Marks_are_reached_and_opened_by_keyboard(string address, string figure)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await page.GotoAsync(address);
        int marks = await page.Locator($"{figure} .mark").CountAsync();
        await ReachByTab(page, figure);
        ILocator says = page.Locator($"figure:has({figure}) .figure-says");
        await Expect(says).ToContainTextAsync("Arrow keys go from mark to mark, Enter opens one");

        var named = new HashSet<string>();
        for (int i = 0; i < marks; i++)
        {
            await page.Keyboard.PressAsync("ArrowRight");
            named.Add(await says.InnerTextAsync());
        }

        int different = await page.Locator($"{figure} .mark").EvaluateAllAsync<int>("marks => new Set(marks.map(m => m.dataset.name + m.dataset.detail)).size");
        Assert.Equal(different, named.Count);
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForURLAsync("**/heats/**");
    }

    [Theory]
    [InlineData("/demo/trend", "#trend", "hardness [HRC]")]
    [InlineData("/demo/enquiries/Q-07", "#fig-verdict", "coupon")]
    [InlineData("/demo/planner", "#odds-ratio", "ratio")]
    public async Task A_figure_is_taken_along_as_drawing_picture_and_data(string address, string figure, string column)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await page.GotoAsync(address);
        byte[] svg = await Take(page, figure, "svg", "image/svg+xml"), png = await Take(page, figure, "png", "image/png"), csv = await Take(page, figure, "csv", "text/csv; charset=utf-8");
        Assert.StartsWith("<svg", Encoding.UTF8.GetString(svg), StringComparison.Ordinal);
        Assert.Contains("@font-face", Encoding.UTF8.GetString(svg), StringComparison.Ordinal);

        // PNG: eight bytes of signature, then the header with width and height; a slide wants at least 1600 px.
        Assert.Equal([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A], png[..8]);
        Assert.True(System.Buffers.Binary.BinaryPrimitives.ReadInt32BigEndian(png.AsSpan(16)) >= 1600);
        string[] lines = Encoding.UTF8.GetString(csv).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        Assert.Contains(column, lines[0], StringComparison.Ordinal);
        Assert.Equal(await page.Locator($"figure:has({figure}) .figure-table tbody tr").CountAsync(), lines.Length - 1);
    }

    [Fact]
    public async Task Copy_puts_the_picture_and_the_data_on_the_clipboard()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await page.Context.GrantPermissionsAsync(["clipboard-read", "clipboard-write"]);
        await page.GotoAsync("/demo/trend");
        foreach ((string kind, string type) in ((string, string)[])[("png", "image/png"), ("data", "text/plain"), ("svg", "text/plain")])
        {
            await page.Locator($"figure:has(#trend) a[data-copy={kind}]").ClickAsync();
            await Expect(page.Locator("figure:has(#trend) .figure-says")).ToHaveTextAsync("Copied.");
            string[] types = await page.EvaluateAsync<string[]>("async () => (await navigator.clipboard.read()).flatMap(i => i.types)");
            Assert.Contains(type, types);
            await page.Locator("#trend .mark").First.HoverAsync();
        }

        string text = await page.EvaluateAsync<string>("async () => await navigator.clipboard.readText()");
        Assert.StartsWith("<svg", text, StringComparison.Ordinal);
    }

    private static async Task ReachByTab(IPage page, string figure)
    {
        for (int i = 0; i < 400; i++)
        {
            await page.Keyboard.PressAsync("Tab");
            if (await page.EvaluateAsync<bool>("id => document.activeElement?.matches(id)", figure))
            {
                return;
            }
        }

        Assert.Fail($"{figure} is not reached by the tab key.");
    }

    private static async Task<byte[]> Take(IPage page, string figure, string ending, string type)
    {
        string address = await page.Locator($"figure:has({figure}) .figure-take a[href$='.{ending}']").EvaluateAsync<string>("a => a.href");
        IAPIResponse file = await page.APIRequest.GetAsync(address);
        Assert.Equal(type, file.Headers["content-type"]);
        return await file.BodyAsync();
    }
}
