using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>The two parts of an analysis' standard uncertainty, mass percent.</summary>
/// <param name="Repeatability">Differs from burn to burn: never cancels.</param>
/// <param name="Bias">Of the method in that laboratory: the same for two heats measured there, so it cancels in their difference.</param>
public readonly record struct UncertaintyParts(double Repeatability, double Bias)
{
    /// <summary>Both together.</summary>
    public double Total => Math.Sqrt(Repeatability * Repeatability + Bias * Bias);
}

/// <summary>Standard uncertainty to assume where a laboratory has stated none, by element and method.</summary>
/// <remarks>
/// <para><b>Values.</b> Repeatability and bias as a share of the content with a least value each; order of magnitude, from memory, until the laboratory's
/// own replace them.</para>
/// <para><b>A stated uncertainty</b> is split in the same proportion: its total is kept.</para>
/// <para><b>Source.</b> Shipped table; see docs/methods/Explainer.md.</para>
/// </remarks>
public static class AnalyticalUncertainty
{
    private static readonly UncertaintyFile s_file = ShippedTable.Read<UncertaintyFile>("Explanation.analytical-uncertainty.json");

    /// <summary>Where the defaults come from.</summary>
    public static Source Source { get; } = new(s_file.Source, s_file.Status);

    /// <summary>Default parts for a content.</summary>
    /// <param name="element">Element symbol.</param>
    /// <param name="method">Method.</param>
    /// <param name="massPercent">Content, mass percent.</param>
    public static UncertaintyParts Default(string element, AnalyticalMethod method, double massPercent)
    {
        UncertaintyRow row = s_file.Rows.FirstOrDefault(r => r.Method == method && r.Element == element)
            ?? s_file.Rows.FirstOrDefault(r => r.Method == method && r.Element == "*")
            ?? s_file.Rows.Single(r => r.Method == AnalyticalMethod.NotStated);
        return new(Math.Max(row.RepeatabilityLeast, row.RepeatabilityRelative * massPercent), Math.Max(row.BiasLeast, row.BiasRelative * massPercent));
    }

    /// <summary>Parts of a stated standard uncertainty, split as the default is.</summary>
    public static UncertaintyParts Split(string element, AnalyticalMethod method, double massPercent, double standardUncertainty)
    {
        UncertaintyParts parts = Default(element, method, massPercent);
        double scale = standardUncertainty / parts.Total;
        return new(parts.Repeatability * scale, parts.Bias * scale);
    }

    private sealed record UncertaintyFile(string Source, SourceStatus Status, string Unit, List<UncertaintyRow> Rows);

    private sealed record UncertaintyRow(
        string Element, AnalyticalMethod Method, double RepeatabilityRelative, double RepeatabilityLeast, double BiasRelative, double BiasLeast);
}
