using System.Net;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Storage;
using Meltwise.Web.Tests.Readings;
using Xunit;

namespace Meltwise.Web.Tests.Enquiries;

/// <summary>The bench's own scatter between hardness sessions is offered in the rule, taken with one tick, and kept with its origin.</summary>
public sealed class SessionScatterOfRuleTests
{
    private static readonly Dictionary<string, string> s_rule = new()
    {
        ["WriteForm.Property"] = "impact energy",
        ["WriteForm.Margin"] = "25%",
        ["WriteForm.Question"] = "Equivalent",
        ["WriteForm.Estimand"] = "EqualHardness",
        ["WriteForm.LadderSlope"] = "false",
        ["WriteForm.Scatter"] = "Own",
        ["WriteForm.Others[0].Role"] = "",
        ["WriteForm.Others[0].Property"] = "hardness",
    };

    private static IEnumerable<BenchChange> Bench(int checks) =>
    [
        .. SmallBench.Changes(), new BenchChange.PutInstrument(new("T1", "hardness tester", "hardness", "HRC")),
        .. Enumerable.Range(0, checks).Select(i => new BenchChange.PutVerification(new("T1", new DateOnly(2026, 1, 1).AddDays(i), new(2027, 1, 1), true, "block 62.4", Readings: [62.3 + (0.2 * (i % 2)), 62.4 + (0.2 * (i % 2))]))),
    ];

    [Fact]
    public async Task It_is_taken_with_one_tick_and_stands_in_the_locked_rule()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: Bench(10));
        await using var form = new FormSender(workbench);
        string page = await Page(workbench);
        Assert.Contains("take the bench’s own: scatter between sessions 0.09 HRC", page, StringComparison.Ordinal);
        string written = await form.Send("/own/enquiries/E-1", "write", new Dictionary<string, string>(s_rule) { ["WriteForm.SessionSd"] = "0.4", ["WriteForm.TakeOwn"] = "true" });
        Assert.Contains("scatter by 0.09\u00A0HRC, from checks of T1 on block 62.4, 10 sessions", written, StringComparison.Ordinal);
        await form.Send("/own/enquiries/E-1", "lock", new Dictionary<string, string>());
        using IBench bench = BenchFile.Open(workbench.OwnPath);
        Enquiry locked = bench.FindEnquiry("E-1")!;
        Assert.NotNull(locked.Lock);
        Assert.Equal(0.09, locked.Rule!.SessionSdHrc);
        Assert.StartsWith("checks of T1", locked.Rule.SessionSdFrom, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_is_typed_instead_has_no_origin()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: Bench(10));
        await using var form = new FormSender(workbench);
        await form.Send("/own/enquiries/E-1", "write", new Dictionary<string, string>(s_rule) { ["WriteForm.TakeOwn"] = "true" });
        string typed = await form.Send("/own/enquiries/E-1", "write", new Dictionary<string, string>(s_rule) { ["WriteForm.SessionSd"] = "0,2" });
        Assert.Contains("scatter by 0.20\u00A0HRC, as typed", typed, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Too_few_checks_are_said_and_not_offered()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: Bench(3));
        string page = await Page(workbench);
        Assert.Contains("3 sessions: too few to use", page, StringComparison.Ordinal);
        Assert.DoesNotContain("take the bench’s own", page, StringComparison.Ordinal);
    }

    private static async Task<string> Page(RunningWorkbench workbench)
    {
        using var client = new HttpClient { BaseAddress = workbench.Address };
        return WebUtility.HtmlDecode(await client.GetStringAsync(new Uri("/own/enquiries/E-1", UriKind.Relative), TestContext.Current.CancellationToken));
    }
}
