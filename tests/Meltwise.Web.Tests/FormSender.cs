using System.Net;
using Xunit;

namespace Meltwise.Web.Tests;

/// <summary>Sends a form of a page as a browser without scripts does: the token of the form and the cookie that belongs to it.</summary>
public sealed class FormSender(RunningWorkbench workbench) : IAsyncDisposable
{
    private const string TokenName = "name=\"__RequestVerificationToken\" value=\"";

    private readonly HttpClient _client = new() { BaseAddress = workbench.Address };

    /// <summary>Opens the page, sends the form of that name, and gives the page that comes back.</summary>
    public async Task<string> Send(string address, string form, IReadOnlyDictionary<string, string> fields)
    {
        string page = await _client.GetStringAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);
        int handler = page.IndexOf($"value=\"{form}\"", StringComparison.Ordinal);
        Assert.True(handler >= 0, $"{address} has no form {form}.");
        int start = page.LastIndexOf("<form", handler, StringComparison.Ordinal), token = page.IndexOf(TokenName, start, StringComparison.Ordinal) + TokenName.Length;
        using var content = new FormUrlEncodedContent(fields.Append(new("_handler", form)).Append(new("__RequestVerificationToken", page[token..page.IndexOf('"', token)])));
        using HttpResponseMessage answer = await _client.PostAsync(new Uri(address, UriKind.Relative), content, TestContext.Current.CancellationToken);
        Assert.True(answer.IsSuccessStatusCode, $"{address}, form {form}: {(int)answer.StatusCode}.");
        return WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
    }

    public ValueTask DisposeAsync()
    {
        _client.Dispose();
        return ValueTask.CompletedTask;
    }
}
