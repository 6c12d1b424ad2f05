using Meltwise.Casework.Explaining;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Web.Heats;

/// <summary>What the chemistry and the hot history of a recorded heat let one expect.</summary>
/// <param name="Outlook">The outlook, or null when no chemistry is recorded or none could be computed.</param>
/// <param name="Fault">What could not be answered and why, in words; null when all was.</param>
internal sealed record OutlookOfHeat(HeatOutlookResult? Outlook, string? Fault)
{
    /// <summary>Computes it.</summary>
    /// <param name="bench">The bench.</param>
    /// <param name="heat">The heat.</param>
    public static OutlookOfHeat Of(IBench bench, Heat heat)
    {
        if (MeasuredChemistry.Of(heat.Name, bench.Chemistry(heat.Name)) is not { } chemistry)
        {
            return new(null, null);
        }

        HeatBackground background = RecordedBackground.Of(bench, heat);
        OutlookOfHeat whole = TryOf(chemistry, background);

        // When the history cannot be computed with, the rest is still said.
        return whole.Outlook is null && background.History.Count > 0
            ? TryOf(chemistry, background with { History = [], PowderDiameterM = null }) with { Fault = whole.Fault }
            : whole;
    }

    private static OutlookOfHeat TryOf(HeatChemistry chemistry, HeatBackground background)
    {
        try
        {
            return new(HeatOutlook.Of(chemistry, background), null);
        }
        catch (OutsideModelRangeException range)
        {
            return new(null, range.Words);
        }
        catch (Exception refused) when (refused is EquilibriumRefusedException or SteelCompositionException)
        {
            return new(null, refused.Message);
        }
    }
}
