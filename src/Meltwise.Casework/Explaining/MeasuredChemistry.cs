using Meltwise.Domain;
using Meltwise.Metallurgy.Explanation;

namespace Meltwise.Casework.Explaining;

/// <summary>From recorded chemistry to the contents that the metallurgy computes with: preferred method for each element, uncertainties, limits.</summary>
public static class MeasuredChemistry
{
    /// <summary>The heat's chemistry, or null when no element was measured.</summary>
    public static HeatChemistry? Of(string heat, IReadOnlyList<Domain.ChemistryResult> results)
    {
        List<Metallurgy.Explanation.ChemistryResult> converted = [.. results.Select(Convert).OfType<Metallurgy.Explanation.ChemistryResult>()];
        return converted.Count == 0 ? null : ChemistrySelection.Of(heat, converted);
    }

    /// <summary>The method that a recorded name stands for. Names are those the trade uses; anything else counts as not stated.</summary>
    public static AnalyticalMethod Method(string? name)
    {
        string text = (name ?? "").ToUpperInvariant();
        return text switch
        {
            _ when text.Contains("COMBUSTION", StringComparison.Ordinal) => AnalyticalMethod.Combustion,
            _ when text.Contains("FUSION", StringComparison.Ordinal) => AnalyticalMethod.InertGasFusion,
            _ when text.Contains("SPARK", StringComparison.Ordinal) || text.Contains("OES", StringComparison.Ordinal) && !text.Contains("ICP", StringComparison.Ordinal) => AnalyticalMethod.SparkEmission,
            _ when text.Contains("XRF", StringComparison.Ordinal) || text.Contains("X-RAY", StringComparison.Ordinal) => AnalyticalMethod.XRayFluorescence,
            _ when text.Contains("ICP", StringComparison.Ordinal) || text.Contains("WET", StringComparison.Ordinal) || text.Contains("ABSORPTION", StringComparison.Ordinal) => AnalyticalMethod.SolutionSpectrometry,
            _ when text.Contains("CERTIFICATE", StringComparison.Ordinal) || text.Contains("MILL", StringComparison.Ordinal) => AnalyticalMethod.Certificate,
            _ => AnalyticalMethod.NotStated,
        };
    }

    private static Metallurgy.Explanation.ChemistryResult? Convert(Domain.ChemistryResult recorded) => recorded.Result.Match<Metallurgy.Explanation.ChemistryResult?>(
        quantified => new(recorded.Element, quantified.MassPercent, false, Method(recorded.Method), recorded.Laboratory,
            quantified.StandardUncertainty > 0 ? quantified.StandardUncertainty : null),
        below => new(recorded.Element, below.LimitMassPercent, true, Method(recorded.Method), recorded.Laboratory),
        _ => null);
}
