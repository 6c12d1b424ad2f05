using Microsoft.Playwright;
using Xunit;

namespace Meltwise.Web.Tests;

/// <summary>One headless Chromium for all browser tests: the system's own, so that nothing is downloaded.</summary>
public sealed class Browser : IAsyncLifetime
{
    private IPlaywright _playwright = null!;
    private IBrowser _browser = null!;

    private static string Executable => Environment.GetEnvironmentVariable("MELTWISE_CHROMIUM") ?? "/usr/bin/chromium";

    public async ValueTask InitializeAsync()
    {
        Assert.True(File.Exists(Executable), $"The browser tests need Chromium at {Executable} (Debian: apt-get install chromium), or its path in MELTWISE_CHROMIUM.");
        // Long enough for a machine that is busy with other work; what is right is seen at once and costs no wait.
        Assertions.SetDefaultExpectTimeout(30_000);
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new()
        {
            ExecutablePath = Executable,
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
    }

    /// <summary>A fresh page on a window of 1440 by 1000, on light or dark paper, with or without scripts.</summary>
    public async Task<IPage> Page(RunningWorkbench workbench, bool dark = false, int width = 1440, bool scripts = true)
    {
        IBrowserContext context = await _browser.NewContextAsync(new()
        {
            BaseURL = workbench.Address.ToString(),
            ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light,
            ViewportSize = new() { Width = width, Height = 1000 },
            AcceptDownloads = true,
            JavaScriptEnabled = scripts,
        });
        context.SetDefaultTimeout(30_000);
        return await context.NewPageAsync();
    }

    public async ValueTask DisposeAsync()
    {
        await _browser.DisposeAsync();
        _playwright.Dispose();
    }
}

/// <summary>The browser tests share the one browser and run one after the other.</summary>
[CollectionDefinition(Name)]
public sealed class BrowserCollection : ICollectionFixture<Browser>
{
    public const string Name = "browser";
}
