using System.Net;
using Meltwise.Web.Tests.Readings;
using Microsoft.Data.Sqlite;
using Xunit;

namespace Meltwise.Web.Tests;

/// <summary>A page that fails is answered with the fault page: status 500, what to do, a reference that the log has too, and nothing of the exception.</summary>
public sealed class FaultPageTests
{
    private const string Failing = "/own/enquiries/E-1";

    [Theory]
    [InlineData("light")]
    [InlineData("dark")]
    public async Task A_page_that_fails_gives_the_fault_page_on_either_paper(string paper)
    {
        await using RunningWorkbench workbench = await Broken();
        using HttpClient client = Client(workbench, paper);
        using HttpResponseMessage answer = await client.GetAsync(new Uri(Failing, UriKind.Relative), TestContext.Current.CancellationToken);
        await AssertIsFaultPage(answer, paper);
        // The next page is as good as ever.
        Assert.Equal(HttpStatusCode.OK, (await client.GetAsync(new Uri("/own/instruments", UriKind.Relative), TestContext.Current.CancellationToken)).StatusCode);
    }

    [Fact]
    public async Task A_form_that_fails_gives_the_fault_page_too()
    {
        await using RunningWorkbench workbench = await Broken();
        using HttpClient client = Client(workbench, "light");
        string page = await client.GetStringAsync(new Uri("/own/instruments", UriKind.Relative), TestContext.Current.CancellationToken);
        const string name = "name=\"__RequestVerificationToken\" value=\"";
        int token = page.IndexOf(name, StringComparison.Ordinal) + name.Length;
        using var content = new FormUrlEncodedContent(new Dictionary<string, string> { ["_handler"] = "judge", ["__RequestVerificationToken"] = page[token..page.IndexOf('"', token)] });
        using HttpResponseMessage answer = await client.PostAsync(new Uri(Failing, UriKind.Relative), content, TestContext.Current.CancellationToken);
        await AssertIsFaultPage(answer, "light");
    }

    private static async Task AssertIsFaultPage(HttpResponseMessage answer, string paper)
    {
        Assert.Equal(HttpStatusCode.InternalServerError, answer.StatusCode);
        string page = WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        Assert.Contains($"data-paper=\"{paper}\"", page, StringComparison.Ordinal);
        Assert.Contains("The program failed while it made this page.", page, StringComparison.Ordinal);
        Assert.Matches("Fault <code>[0-9A-Z:]{8,}</code>", page);
        Assert.Contains("</html>", page, StringComparison.Ordinal);
        foreach (string inside in (string[])["Exception", "System.", "Json", "   at ", ".cs:", "depth"])
        {
            Assert.DoesNotContain(inside, page, StringComparison.Ordinal);
        }
    }

    private static HttpClient Client(RunningWorkbench workbench, string paper)
    {
        var client = new HttpClient { BaseAddress = workbench.Address };
        client.DefaultRequestHeaders.Add("Cookie", $"meltwise-paper={paper}");
        return client;
    }

    // An enquiry whose stored sheet was spoilt outside Meltwise: no page expects that.
    private static async Task<RunningWorkbench> Broken()
    {
        RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: SmallBench.Changes());
        await using var connection = new SqliteConnection($"Data Source={workbench.OwnPath}");
        await connection.OpenAsync(TestContext.Current.CancellationToken);
        List<string> triggers = [];
        using (var list = new SqliteCommand("SELECT name FROM sqlite_master WHERE type = 'trigger'", connection))
        using (SqliteDataReader row = await list.ExecuteReaderAsync(TestContext.Current.CancellationToken))
        {
            while (await row.ReadAsync(TestContext.Current.CancellationToken))
            {
                triggers.Add(row.GetString(0));
            }
        }

        foreach (string statement in triggers.Select(t => $"DROP TRIGGER \"{t}\"").Append("UPDATE enquiry_version SET sheet = '{'"))
        {
            using var command = new SqliteCommand(statement, connection);
            await command.ExecuteNonQueryAsync(TestContext.Current.CancellationToken);
        }

        return workbench;
    }
}
