using System.Net;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Storage;
using Meltwise.Web.Tests.Readings;
using Xunit;

namespace Meltwise.Web.Tests.Instruments;

/// <summary>What the pages say of an instrument that drifts, lapses or fails.</summary>
public sealed class InstrumentPagesTests
{
    [Fact]
    public async Task The_page_of_an_instrument_draws_its_drift_and_lists_what_it_read_out_of_verification()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start();
        string pendulum = await Get(workbench, "/demo/instruments/pendulum%2C%20150%20J");
        Assert.Contains("id=\"fig-drift\"", pendulum, StringComparison.Ordinal);
        Assert.Contains("Verification lapsed on 31\u00A0Oct\u00A02024", pendulum, StringComparison.Ordinal);
        Assert.Contains("href=\"heats/D05/coupons/1\"", pendulum, StringComparison.Ordinal);
        Assert.DoesNotContain("href=\"heats/U16/coupons/1\"", pendulum, StringComparison.Ordinal);

        string tester = await Get(workbench, "/demo/instruments/hardness%20tester%201");
        Assert.Contains("but the check of 25\u00A0Nov\u00A02024 failed", tester, StringComparison.Ordinal);
        Assert.Contains("href=\"heats/H07/coupons/1\"", tester, StringComparison.Ordinal);
        Assert.Contains("<p class=\"between-sessions\">Scatter between sessions 0.09 HRC (0.05 to 0.18), 11 sessions.</p>", tester, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Readings_of_a_check_are_typed_in_one_line_and_their_mean_is_what_was_found()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: [.. SmallBench.Changes(), new BenchChange.PutInstrument(new("T1", "hardness tester", "hardness", "HRC"))]);
        await using var form = new FormSender(workbench);
        Dictionary<string, string> typed = new() { ["Form.On"] = "2026-01-05", ["Form.Until"] = "2026-06-30", ["Form.Reference"] = "block 62.4", ["Form.Certified"] = "62,4", ["Form.Readings"] = "62.3 62,4; 62.8", ["Form.Passed"] = "true" };
        await form.Send("/own/instruments/T1", "verification", typed);
        Assert.Contains("62.3 62.4 62.8", await Get(workbench, "/own/instruments/T1"), StringComparison.Ordinal);
        Assert.Contains("“62.x” among the readings is not a number", await form.Send("/own/instruments/T1", "verification", new Dictionary<string, string>(typed) { ["Form.On"] = "2026-01-06", ["Form.Readings"] = "62.3 62.x" }), StringComparison.Ordinal);
        Assert.Contains("but 64 was put down as found", await form.Send("/own/instruments/T1", "verification", new Dictionary<string, string>(typed) { ["Form.On"] = "2026-01-06", ["Form.Found"] = "64" }), StringComparison.Ordinal);
        using IBench bench = BenchFile.Open(workbench.OwnPath);
        Verification kept = Assert.Single(bench.Verifications("T1"));
        Assert.Equal(62.5, kept.Found);
        Assert.Equal([62.3, 62.4, 62.8], kept.Readings!);
    }

    [Fact]
    public async Task The_enquiry_says_which_of_its_readings_no_verification_covers()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own:
        [
            .. SmallBench.Changes(),
            new BenchChange.PutVerification(new("Pendulum, 150 J", new(2024, 1, 1), new(2025, 1, 1), true)),
            new BenchChange.PutReading(new Reading(new("N1", "1"), "impact energy", 1, CensoredValue.Of(40, "J"), "Pendulum, 150 J", ReadOn: new(2025, 5, 6))),
        ]);
        string page = await Get(workbench, "/own/enquiries/E-1");
        Assert.Contains("href=\"instruments/Pendulum%2C%20150%20J#doubt\"", page, StringComparison.Ordinal);
        Assert.Contains("verification lapsed on 1\u00A0Jan\u00A02025. One\u00A0reading of this enquiry, coupons N1/1.", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_coupon_under_a_sealed_key_is_listed_by_its_code()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own:
        [
            .. SmallBench.Changes(),
            new BenchChange.PutVerification(new("Pendulum, 150 J", new(2024, 1, 1), new(2025, 1, 1), true)),
            new BenchChange.PutCoupon(new("S1", "9", "L", "unnotched 7×10×55", "usual", "1", 9, "Q7Z")),
            new BenchChange.PutReading(new Reading(new("S1", "9"), "impact energy", 1, CensoredValue.Of(40, "J"), "Pendulum, 150 J", ReadOn: new(2025, 7, 6))),
            new BenchChange.PutEnquiry(new Enquiry { Name = "E-2", Title = "Blind", ReferenceHeats = ["N1"], CandidateHeats = ["S1"], Coupons = [new("S1", "9")], Key = new BlindKey(DateTime.UnixEpoch, null, null) }),
        ]);
        string page = await Get(workbench, "/own/instruments/Pendulum%2C%20150%20J");
        Assert.Contains("<td>Q7Z</td>", page, StringComparison.Ordinal);
        Assert.DoesNotContain("S1/9", page, StringComparison.Ordinal);
    }

    private static async Task<string> Get(RunningWorkbench workbench, string address)
    {
        using var client = new HttpClient { BaseAddress = workbench.Address };
        return WebUtility.HtmlDecode(await client.GetStringAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken));
    }
}
