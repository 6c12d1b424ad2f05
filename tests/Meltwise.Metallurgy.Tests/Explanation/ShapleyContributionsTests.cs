using Meltwise.Evidence;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Explanation;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Explanation;

public sealed class ShapleyContributionsTests
{
    private static readonly HardeningTreatment s_treatment = new(1020, [20], []);

    [Fact] // Independent definition: the average over all orders in which the elements are changed one after the other.
    public void Equals_the_average_over_all_orders_of_changing_the_elements()
    {
        HeatChemistry a = ChemistrySelection.Typed("A", [("C", 1.50, null), ("Cr", 12.0, null), ("V", 0.9, null)]);
        HeatChemistry b = ChemistrySelection.Typed("B", [("C", 1.58, null), ("Cr", 11.5, null), ("V", 1.1, null)]);
        ChemistryDraws draws = new(a, b);
        ISoak soak = new EquilibriumSoak().Near(draws.Reference, 1293.15);
        HardnessChain chain = new(s_treatment);
        IReadOnlyList<ElementContribution> shares = ShapleyContributions.Of(draws, chain, soak, 0.95, TestContext.Current.CancellationToken);

        AlloyElement[][] orders =
        [
            [AlloyElement.C, AlloyElement.Cr, AlloyElement.V], [AlloyElement.C, AlloyElement.V, AlloyElement.Cr], [AlloyElement.Cr, AlloyElement.C, AlloyElement.V],
            [AlloyElement.Cr, AlloyElement.V, AlloyElement.C], [AlloyElement.V, AlloyElement.C, AlloyElement.Cr], [AlloyElement.V, AlloyElement.Cr, AlloyElement.C],
        ];
        foreach (AlloyElement element in orders[0])
        {
            double sum = 0;
            foreach (AlloyElement[] order in orders)
            {
                AlloyContent steel = draws.Reference;
                foreach (AlloyElement e in order.TakeWhile(e => e != element)) steel[e] = draws.Candidate[e];
                double before = chain.Of(soak.Of(steel), ChainErrors.None).HardnessHrc;
                steel[element] = draws.Candidate[element];
                sum += chain.Of(soak.Of(steel), ChainErrors.None).HardnessHrc - before;
            }
            Assert.Equal(sum / 6, shares.Single(s => s.Element == element.ToString()).HardnessHrc.Estimate, 1e-7);
        }
        double whole = chain.Of(soak.Of(draws.Candidate), ChainErrors.None).HardnessHrc - chain.Of(soak.Of(draws.Reference), ChainErrors.None).HardnessHrc;
        Assert.Equal(whole, shares.Sum(s => s.HardnessHrc.Estimate), 1e-7);
    }

    [Fact] // On a straight line each share is slope times difference, by hand.
    public void On_a_straight_line_each_share_is_slope_times_difference()
    {
        HeatChemistry a = ChemistrySelection.Typed("A", [("C", 1.50, 0.01), ("Cr", 12.0, 0.05)]), b = ChemistrySelection.Typed("B", [("C", 1.55, 0.01), ("Cr", 11.7, 0.05)]);
        IReadOnlyList<ElementContribution> shares = ShapleyContributions.Of(new(a, b), new(s_treatment), new StraightLineSoak(), 0.95, TestContext.Current.CancellationToken);
        ElementContribution carbon = shares.Single(s => s.Element == "C");
        Digits.Agree(0.35 * 0.05, carbon.CarbonInAustenite.Estimate, new(10), "carbon");
        Digits.Agree(0.05 * 0.3, shares.Single(s => s.Element == "Cr").CarbonInAustenite.Estimate, new(10), "chromium");
        Digits.Agree(0.35 * 1.959963985 * Math.Sqrt(2) * 0.01, carbon.CarbonInAustenite.HalfWidth, new(8), "half width of carbon");
    }

    [Fact] // An element that only the candidate holds plays too: the shares add up to the whole difference of two separate cold solves.
    public void An_element_of_the_candidate_alone_gets_its_share()
    {
        HeatChemistry a = ChemistrySelection.Typed("A", [("C", 1.05, null), ("Cr", 17, null)]), b = ChemistrySelection.Typed("B", [("C", 1.0, null), ("Cr", 16.5, null), ("Ni", 0.5, null)]);
        ChemistryDraws draws = new(a, b);
        HardnessChain chain = new(s_treatment);
        EquilibriumSoak soaks = new();
        IReadOnlyList<ElementContribution> shares = ShapleyContributions.Of(draws, chain, soaks.Near(draws.ReferenceWithAllElements, 1323.15), 0.95, TestContext.Current.CancellationToken);
        double whole = chain.Of(soaks.Near(draws.Candidate, 1323.15).Of(draws.Candidate), ChainErrors.None).HardnessHrc
            - chain.Of(soaks.Near(draws.Reference, 1323.15).Of(draws.Reference), ChainErrors.None).HardnessHrc;
        Assert.Equal(whole, shares.Sum(s => s.HardnessHrc.Estimate), 1e-4); // the trace of nickel in the reference moves it by less
        Assert.True(Math.Abs(shares.Single(s => s.Element == "Ni").HardnessHrc.Estimate) > 0.01);
        Assert.Throws<ArgumentException>(() => soaks.Near(draws.Reference, 1323.15).Of(draws.Candidate));
    }

    [Fact]
    public void More_than_eight_differing_elements_pool_the_smallest_and_still_add_up()
    {
        string[] all = ["C", "Mn", "Si", "Cr", "Ni", "Mo", "V", "W", "Co", "Nb"];
        double[] content = [1.5, 0.3, 0.3, 12, 0.2, 0.8, 0.9, 0.1, 0.1, 0.05];
        HeatChemistry a = ChemistrySelection.Typed("A", [.. all.Select((e, i) => (e, content[i], (double?)null))]);
        HeatChemistry b = ChemistrySelection.Typed("B", [.. all.Select((e, i) => (e, 1.02 * content[i], (double?)null))]);
        IReadOnlyList<ElementContribution> shares = ShapleyContributions.Of(new(a, b), new(s_treatment), new StraightLineSoak(), 0.95, TestContext.Current.CancellationToken);
        Assert.Equal(8, shares.Count);
        Assert.Contains(shares, s => s.Element.Contains(", ", StringComparison.Ordinal));
        Assert.Equal(0.35 * 0.03 - 0.05 * 0.24, shares.Sum(s => s.CarbonInAustenite.Estimate), 1e-12);
    }
}
