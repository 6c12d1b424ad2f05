using System.Net;
using Xunit;

namespace Meltwise.Web.Tests;

/// <summary>The workbench answers this machine's own pages and nobody else (architecture: safety of the machine it runs on).</summary>
public sealed class SecurityTests
{
    [Theory]
    [InlineData("evil.example")]
    [InlineData("localhost.evil.example")]
    [InlineData("192.168.1.20")]
    public async Task A_foreign_host_is_refused(string host)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false);
        using var client = new HttpClient();
        using var request = new HttpRequestMessage(HttpMethod.Get, new Uri(workbench.Address, "/own/"));
        request.Headers.Host = host;

        using HttpResponseMessage answer = await client.SendAsync(request, TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.DoesNotContain("Meltwise</a>", await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Origin", "http://evil.example")]
    [InlineData("Origin", "null")]
    [InlineData("Sec-Fetch-Site", "cross-site")]
    public async Task A_request_from_a_foreign_page_is_refused(string header, string value)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false);
        using var client = new HttpClient();
        using var request = new HttpRequestMessage(HttpMethod.Post, new Uri(workbench.Address, "/paper"));
        request.Headers.Add(header, value);

        using HttpResponseMessage answer = await client.SendAsync(request, TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Fact]
    public async Task The_own_address_and_its_own_origin_are_answered()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false);
        using var client = new HttpClient();
        using var request = new HttpRequestMessage(HttpMethod.Get, new Uri(workbench.Address, "/own/"));
        request.Headers.Add("Origin", workbench.Address.GetLeftPart(UriPartial.Authority));

        using HttpResponseMessage answer = await client.SendAsync(request, TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
    }

    [Theory]
    [InlineData("/paper", "paper=dark&back=/own/")]
    [InlineData("/own/", "_handler=start")]
    public async Task A_change_without_the_pages_own_token_is_refused(string path, string form)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false);
        using var client = new HttpClient();
        using var content = new StringContent(form, System.Text.Encoding.UTF8, "application/x-www-form-urlencoded");

        using HttpResponseMessage answer = await client.PostAsync(new Uri(workbench.Address, path), content, TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.False(File.Exists(workbench.OwnPath));
    }

    [Fact]
    public async Task It_listens_on_the_loopback_address_only()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false);

        IPEndPoint[] listeners = [.. System.Net.NetworkInformation.IPGlobalProperties.GetIPGlobalProperties().GetActiveTcpListeners().Where(l => l.Port == workbench.Address.Port)];

        Assert.NotEmpty(listeners);
        Assert.All(listeners, l => Assert.True(IPAddress.IsLoopback(l.Address), l.ToString()));
    }

    [Fact]
    public async Task Style_sheets_and_fonts_come_with_content_from_any_current_folder()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false);
        using var client = new HttpClient { BaseAddress = workbench.Address };
        string page = await client.GetStringAsync(new Uri("/own/", UriKind.Relative), TestContext.Current.CancellationToken);

        string[] files = [.. System.Text.RegularExpressions.Regex.Matches(page, "/print/[0-9a-f]{8}/[a-z.-]+", System.Text.RegularExpressions.RegexOptions.None, TimeSpan.FromSeconds(1)).Select(m => m.Value).Distinct()];

        Assert.True(files.Length >= 8, $"expected the style sheets, the script and the sign, found {files.Length}");
        foreach (string file in files.Append(files[0][..files[0].LastIndexOf('/')] + "/fonts/vollkorn-latin-wght-normal.woff2"))
        {
            Assert.NotEmpty(await client.GetByteArrayAsync(new Uri(file, UriKind.Relative), TestContext.Current.CancellationToken));
        }
    }
}
