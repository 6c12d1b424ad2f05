using Microsoft.Playwright;
using Xunit;
using static Microsoft.Playwright.Assertions;

namespace Meltwise.Web.Tests.LongWork;

/// <summary>Reads a page as a person does who waits until its work is done.</summary>
internal static class WorkDone
{
    /// <summary>Goes to a page and waits until nothing is in hand on it.</summary>
    public static async Task Open(IPage page, string address)
    {
        await page.GotoAsync(address);
        await Expect(page.Locator("[data-work]")).ToHaveCountAsync(0, new() { Timeout = 60_000 });
        await page.WaitForLoadStateAsync();
    }

    public static async Task<string> Page(HttpClient client, string address)
    {
        for (int look = 0; look < 240; look++)
        {
            string page = await client.GetStringAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);
            if (!page.Contains("data-work=", StringComparison.Ordinal))
            {
                return page;
            }

            await Task.Delay(250, TestContext.Current.CancellationToken);
        }

        throw new TimeoutException($"The work of {address} was not done within a minute.");
    }
}
