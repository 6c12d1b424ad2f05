using System.Net;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests;

/// <summary>What a reader can do with a figure in the page: name a mark, look closer.</summary>
[Collection(BrowserCollection.Name)]
public sealed class FigureZoomTests(Browser browser)
{
    [Fact]
    public async Task A_mark_is_named_and_the_figure_is_zoomed()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/demo/trend");
        ILocator mark = page.Locator("#trend .mark[data-name]").First;
        await mark.HoverAsync();
        await Expect(page.Locator(".figure-says").First).ToContainTextAsync((await mark.GetAttributeAsync("data-name"))!);

        (double before, double after) = await Zoom(page, "#trend");
        Assert.InRange(after, 0.35 * before, 0.65 * before);
        await page.Locator("#trend").DblClickAsync(new() { Position = new() { X = 200, Y = 30 } });
        await page.WaitForFunctionAsync("w => Math.abs(+document.querySelector('#trend [data-panel]').dataset.xMax - +document.querySelector('#trend [data-panel]').dataset.xMin - w) < 1e-6", before);
    }

    [Theory]
    [InlineData("#fig-verdict")]
    [InlineData("#fig-trend")]
    public async Task The_figures_of_a_verdict_are_zoomed_and_their_marks_still_open(string figure)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/demo/enquiries/Q-07");
        (double before, double after) = await Zoom(page, figure);
        Assert.InRange(after, 0.35 * before, 0.65 * before);
        Assert.Contains("/demo/enquiries/Q-07", page.Url, StringComparison.Ordinal);
        await Expect(page.Locator($"{figure} a.mark").First).ToHaveAttributeAsync("href", new System.Text.RegularExpressions.Regex("^heats/", System.Text.RegularExpressions.RegexOptions.None, TimeSpan.FromSeconds(1)));
        await page.Keyboard.PressAsync("Escape");
        await page.WaitForFunctionAsync($"w => Math.abs(+document.querySelector('{figure} [data-panel]').dataset.xMax - +document.querySelector('{figure} [data-panel]').dataset.xMin - w) < 1e-6", before);
    }

    [Fact]
    public async Task A_view_without_sense_is_refused()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        using var client = new HttpClient { BaseAddress = workbench.Address };
        foreach (string query in (string[])["panel=9&xMin=1&xMax=2&yMin=1&yMax=2", "panel=0&xMin=2&xMax=1&yMin=1&yMax=2", "panel=0&xMin=1&xMax=2&yMin=-1&yMax=2", "panel=0&xMin=one&xMax=2&yMin=1&yMax=2"])
        {
            using HttpResponseMessage answer = await client.GetAsync(new Uri("/demo/enquiries/Q-07/figures/trend.view?" + query, UriKind.Relative), TestContext.Current.CancellationToken);
            Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        }
    }

    // Drags over the middle half of the first panel and gives the width of its axis before and after.
    private static async Task<(double Before, double After)> Zoom(IPage page, string figure)
    {
        const string Width = "svg => { const d = svg.querySelector('[data-panel]').dataset; return +d.xMax - +d.xMin; }";
        ILocator svg = page.Locator(figure);
        await svg.ScrollIntoViewIfNeededAsync();
        double before = await svg.EvaluateAsync<double>(Width);
        double[] box = await svg.EvaluateAsync<double[]>("""
            svg => {
              const d = svg.querySelector('[data-panel]').dataset, m = svg.getScreenCTM();
              const at = (x, y) => { const p = svg.createSVGPoint(); p.x = +d.left + x * +d.width; p.y = +d.top + y * +d.height; const q = p.matrixTransform(m); return [q.x, q.y]; };
              return [...at(0.25, 0.2), ...at(0.75, 0.8)];
            }
            """);
        await page.Mouse.MoveAsync((float)box[0], (float)box[1]);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync((float)box[2], (float)box[3], new() { Steps = 5 });
        await page.Mouse.UpAsync();
        await page.WaitForFunctionAsync($"w => {{ const d = document.querySelector('{figure} [data-panel]').dataset; return (+d.xMax - +d.xMin) < 0.9 * w; }}", before);
        return (before, await svg.EvaluateAsync<double>(Width));
    }
}
