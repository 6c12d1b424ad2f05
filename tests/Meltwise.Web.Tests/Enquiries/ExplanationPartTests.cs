using System.Net;
using Meltwise.Casework.Explaining;
using Meltwise.Casework.Recording;
using Meltwise.Storage;
using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests.Enquiries;

/// <summary>An explanation is computed beside the page: its progress is seen, it is stopped without a trace, and begun again it is stored.</summary>
[Collection(BrowserCollection.Name)]
public sealed class ExplanationPartTests(Browser browser)
{
    [Fact]
    public async Task A_long_explanation_is_followed_and_stopped_and_begun_again()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/demo/enquiries/Q-07");
        await Begin(page, "400000");

        ILocator work = page.Locator("#explanation .work");
        await Expect(work).ToContainTextAsync("Explanation of Q-07");
        await page.WaitForFunctionAsync("() => document.querySelector('#explanation .work progress')?.value > 0");
        await Expect(work.Locator(".work-says")).ToContainTextAsync("left");
        await page.GotoAsync("/demo/trend");
        await page.Locator(".foot a", new() { HasText = "explanation of Q-07" }).ClickAsync();

        await page.GetByRole(AriaRole.Button, new() { Name = "Stop it" }).ClickAsync();
        await Expect(page.Locator("#explanation")).ToContainTextAsync("Stopped. Nothing was stored.");
        Assert.Null(Stored(workbench));

        await Begin(page, "200");
        await Expect(page.Locator("#explanation")).ToContainTextAsync("200 draws", new() { Timeout = 60_000 });
        Assert.Equal(200, ExplanationJson.TryRead(Stored(workbench)!.Json)!.Draws);
        await Expect(page.Locator(".work")).ToHaveCountAsync(0);
    }

    [Theory]
    [InlineData("99")]
    [InlineData("many")]
    public async Task Draws_that_make_no_sense_are_refused(string draws)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        IPage page = await browser.Page(workbench);
        await page.GotoAsync("/demo/enquiries/Q-07");
        await Begin(page, draws);
        await Expect(page.Locator("#explanation .message")).ToContainTextAsync($"found “{draws}”");
    }

    [Fact]
    public async Task Work_that_is_not_there_is_said_to_have_ended()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        using var client = new HttpClient { BaseAddress = workbench.Address };
        using HttpResponseMessage told = await client.GetAsync(new Uri("/demo/work/77.json", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.OK, told.StatusCode);
        Assert.Contains("\"running\":false", await told.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
        using HttpResponseMessage forged = await client.PostAsync(new Uri("/demo/work/1/stop", UriKind.Relative), new FormUrlEncodedContent([new("back", "")]), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.BadRequest, forged.StatusCode);
    }

    private static async Task Begin(IPage page, string draws)
    {
        await page.Locator("#x-draws").FillAsync(draws);
        await page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Explain", System.Text.RegularExpressions.RegexOptions.None, TimeSpan.FromSeconds(1)) }).ClickAsync();
    }

    private static StoredDocument? Stored(RunningWorkbench workbench)
    {
        using IBench bench = BenchFile.Open(workbench.DemoPath);
        return bench.FindDocument("Q-07", EnquiryExplanation.DocumentKind);
    }
}
