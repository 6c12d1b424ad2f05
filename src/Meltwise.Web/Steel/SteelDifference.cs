using Meltwise.Casework.Explaining;
using Meltwise.Casework.Recording;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;

namespace Meltwise.Web.Steel;

/// <summary>Why two steels of the calculator come out differently: which element does how much, with the uncertainty of their analyses.</summary>
internal static class SteelDifference
{
    /// <summary>Explains the second less the first under one treatment.</summary>
    /// <param name="bench">The bench whose heats are named.</param>
    /// <param name="first">Name on the page, heat or null, and what was typed.</param>
    /// <param name="second">The same of the other.</param>
    /// <param name="treatment">The treatment of both.</param>
    /// <param name="soak">What the soak reaches; null takes equilibrium.</param>
    /// <param name="draws">Random draws.</param>
    /// <param name="progress">Told the share of the draws made.</param>
    /// <param name="cancel">Stops the draws.</param>
    /// <returns>The explanation, or why there is none.</returns>
    public static (ExplanationDocument? Document, string? Fault) Explain(
        IBench bench, (string Name, string? Heat, string Typed) first, (string Name, string? Heat, string Typed) second, HardeningTreatment treatment, ISoakAssumption? soak, int draws, IProgress<double> progress, CancellationToken cancel)
    {
        (HeatChemistry? a, string? firstFault) = Chemistry(bench, first);
        (HeatChemistry? b, string? secondFault) = Chemistry(bench, second);
        if (a is null || b is null)
        {
            return (null, firstFault ?? secondFault);
        }

        if ((a["C"] is null ? a : b["C"] is null ? b : null) is { } without)
        {
            return (null, $"{without.Name} has no carbon. Without carbon nothing can be said of a difference of hardness.");
        }

        try
        {
            return (ExplanationDocument.Of(Explainer.Explain(a, b, treatment, options: new() { Draws = draws, Soak = soak ?? new EquilibriumSoak() }, progress: progress, cancel: cancel)), null);
        }
        catch (Exception refused) when (refused is EquilibriumRefusedException or ChainRefusedException)
        {
            return (null, refused.Message);
        }
    }

    private static (HeatChemistry? Chemistry, string? Fault) Chemistry(IBench bench, (string Name, string? Heat, string Typed) steel)
    {
        if (!string.IsNullOrWhiteSpace(steel.Heat) && MeasuredChemistry.Of(steel.Heat, bench.Chemistry(steel.Heat)) is { } measured)
        {
            return (measured, null);
        }

        HeatChemistry? typed = TypedSteel.Read(steel.Name, steel.Typed, out string fault);
        return (typed, typed is null ? fault + "." : null);
    }
}
