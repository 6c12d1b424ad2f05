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
    public async Task Carbides_grow_over_a_soak_that_is_typed_in()
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: Heats(oxygenPpm: [40]));
        Assert.DoesNotContain("Growth of carbides over the soak", await Get(workbench, "own/heats/H1"), StringComparison.Ordinal);
        string page = await Get(workbench, "own/heats/H1?soak=1130&hours=4");
        Assert.Contains("Growth of carbides over the soak", page, StringComparison.Ordinal);
        Assert.Contains("M7C3", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("soak=5000&hours=4", "expected a number from 901 to 1250")]
    [InlineData("soak=1130", "A soak needs its temperature and its time")]
    [InlineData("soak=hot&hours=4", "The soak is “hot”")]
    public async Task A_history_that_cannot_be_computed_leaves_the_rest(string typed, string told)
    {
        await using RunningWorkbench workbench = await RunningWorkbench.Start(demonstration: false, own: Heats(oxygenPpm: [40]));
        string page = System.Net.WebUtility.HtmlDecode(await Get(workbench, "own/heats/H1?" + typed));
        Assert.Contains(told, page, StringComparison.Ordinal);
        Assert.Contains("Oxygen and oxides", page, StringComparison.Ordinal);
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
