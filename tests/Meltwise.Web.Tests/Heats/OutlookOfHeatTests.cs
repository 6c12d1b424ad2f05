using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Web.Tests.Heats;

/// <summary>The outlook on a heat's page: said from what is recorded, silent where nothing is, and never at the price of the page.</summary>
public sealed class OutlookOfHeatTests
{
    [Fact]
    public async Task Oxygen_is_ranked_among_the_heats_of_the_route_and_turned_into_oxide()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: Heats(oxygenPpm: [40, 50, 60, 70, 80, 900]));
        string page = await Get(workbench, "own/heats/H6");
        Assert.Contains("high for its route", page, StringComparison.Ordinal);
        Assert.Contains("5 of 5 other heats of its route have less", page, StringComparison.Ordinal);

        // 60 ppm as Al2O3: 0.0060 / 0.4707 wt% oxide (stoichiometry), times 7.75 / 3.95 (densities, handbook, from memory) = 0.025 vol%.
        string usual = await Get(workbench, "own/heats/H3");
        Assert.Contains("usual for its route", usual, StringComparison.Ordinal);
        Assert.Contains(">0.025<", usual, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Carbides_grow_over_the_hot_history_that_is_recorded()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own:
        [
            .. Heats(oxygenPpm: [40, 40]),
            new BenchChange.PutHotHistory(new HotHistory("H1", [new("consolidation", 1130, 1130, 4)], 250, "nitrogen", "air", "the maker")),
        ]);
        Assert.DoesNotContain("Growth of carbides", await Get(workbench, "own/heats/H2"), StringComparison.Ordinal);
        string page = System.Net.WebUtility.HtmlDecode(await Get(workbench, "own/heats/H1"));
        Assert.Contains("Growth of carbides over the hot history", page, StringComparison.Ordinal);
        Assert.Contains("M7C3", page, StringComparison.Ordinal);
        Assert.Contains("consolidation 1130 °C 4 h", page, StringComparison.Ordinal);
        Assert.Contains("from the powder's cooling rate", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_history_that_cannot_be_computed_leaves_the_rest()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own:
            [.. Heats(oxygenPpm: [40]), Measured("H1", "W", 30, "wt%", "spark OES"), new BenchChange.PutHotHistory(new HotHistory("H1", [new("soak", 1150, 1150, 4)]))]);
        string page = System.Net.WebUtility.HtmlDecode(await Get(workbench, "own/heats/H1"));
        Assert.Contains("W: found 30 mass percent", page, StringComparison.Ordinal);
        Assert.Contains("role=\"alert\"", page, StringComparison.Ordinal);
        Assert.Contains("Oxygen and oxides", page, StringComparison.Ordinal);
    }

    // Limits of AISI D2 by ASTM A681: C 1.40 to 1.60. 1.70 ± 0.01 lies beyond them and its guard band; 1.50 does not.
    [Fact]
    public async Task The_recorded_designation_is_judged_with_its_guard_band_whatever_comes_out()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own:
        [
            .. D2("In", 1.50), .. D2("Out", 1.70),
        ]);
        string inside = System.Net.WebUtility.HtmlDecode(await Get(workbench, "own/heats/In")), outside = System.Net.WebUtility.HtmlDecode(await Get(workbench, "own/heats/Out"));
        Assert.Contains("D2, as recorded</td><td>ASTM A681</td><td>conforms", inside, StringComparison.Ordinal);
        Assert.Contains("D2, as recorded</td><td>ASTM A681</td><td>does not conform</td><td>C 1.7 (1.4 to 1.6)", outside, StringComparison.Ordinal);
    }

    private static IEnumerable<BenchChange> D2(string heat, double carbon)
    {
        yield return new BenchChange.PutGrade(new Grade("AISI D2"));
        yield return new BenchChange.PutHeat(new Heat(heat, null, "AISI D2", "ingot"));
        foreach ((string element, double content) in new[] { ("C", carbon), ("Cr", 12.0), ("Mo", 0.9), ("V", 0.8), ("Mn", 0.3), ("Si", 0.3) })
            yield return new BenchChange.PutChemistry(new ChemistryResult(heat, element, CensoredValue.Of(content, "wt%"), "spark OES", "own laboratory", 0.02, 2));
    }

    private static async Task<string> Get(RunningWorkbench workbench, string address)
    {
        using var client = new HttpClient { BaseAddress = workbench.Address };
        return await client.GetStringAsync(new Uri("/" + address, UriKind.Relative), TestContext.Current.CancellationToken);
    }

    // AISI D2 by its nominal composition; the oxygen is invented.
    private static IEnumerable<BenchChange> Heats(IReadOnlyList<double> oxygenPpm)
    {
        for (int i = 0; i < oxygenPpm.Count; i++)
        {
            string heat = $"H{i + 1}";
            yield return new BenchChange.PutHeat(new Heat(heat, null, null, "ingot"));
            yield return Measured(heat, "O", oxygenPpm[i], "ppm", "inert gas fusion");
            foreach ((string element, double content) in new[] { ("C", 1.5), ("Cr", 12.0), ("Mo", 0.8), ("V", 0.9) })
            {
                yield return Measured(heat, element, content, "wt%", "spark OES");
            }
        }
    }

    private static BenchChange Measured(string heat, string element, double value, string unit, string method) =>
        new BenchChange.PutChemistry(new ChemistryResult(heat, element, CensoredValue.Of(value, unit), method, "own laboratory"));
}
