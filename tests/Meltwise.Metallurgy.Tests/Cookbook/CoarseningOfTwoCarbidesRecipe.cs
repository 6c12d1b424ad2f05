using Meltwise.Metallurgy.Coarsening;
using Meltwise.Metallurgy.Composition;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Cookbook;

public sealed class CoarseningOfTwoCarbidesRecipe
{
    [Fact]
    public void Coarsening_of_two_carbides_in_one_steel()
    {
        List<string> csv = ["time [h],M7C3 diameter [µm],MC diameter [µm],ratio"];
        // recipe
        AlloyContent steel = new() { C = 2.4, Cr = 13.5, V = 9, Mo = 1, Mn = 0.5, Si = 0.5 };
        foreach (double hours in (double[])[1, 2, 4, 8, 16, 32])
        {
            SteelCoarseningResult result = SteelCoarsening.Of(steel, [new("consolidation", 1150, 1150, hours)], _ => 0.05e-6);
            double m7c3 = 2e6 * result.Carbides.Single(c => c.Carbide == CarbideKind.M7C3).Growth.FinalRadiusM;
            double mc = 2e6 * result.Carbides.Single(c => c.Carbide == CarbideKind.MC).Growth.FinalRadiusM;
            csv.Add(FormattableString.Invariant($"{hours},{m7c3:0.000},{mc:0.000},{m7c3 / mc:0.00}"));
        }
        // end of recipe
        RecipePage.Verify("coarsening-of-two-carbides", "Coarsening of two carbides in one steel",
            "A powder steel of 2.4C-13.5Cr-9V-1Mo holds M7C3 and MC side by side. Both start at 0.1 µm across and are held at 1150 °C; the law with its usual multiplier of 3. MC stays finer, because vanadium is scarce "
            + "in austenite and chromium is not. Sizes carry a factor; the ratio does not.",
            csv);
    }
}
