namespace Meltwise.Metallurgy.Explanation;

/// <summary>One result of one element of one heat, as a laboratory gave it.</summary>
/// <param name="Element">Element symbol.</param>
/// <param name="MassPercent">Value, or the limit when <paramref name="IsBelow"/>.</param>
/// <param name="IsBelow">Whether the laboratory reported less than the value.</param>
/// <param name="Method">How it was measured.</param>
/// <param name="Laboratory">Who measured it; null when not known.</param>
/// <param name="StandardUncertainty">Stated standard uncertainty, mass percent (an expanded one divided by its coverage factor); null takes the default.</param>
public sealed record ChemistryResult(
    string Element, double MassPercent, bool IsBelow, AnalyticalMethod Method, string? Laboratory = null, double? StandardUncertainty = null);

/// <summary>The content of one element that the chain uses, with where it came from.</summary>
/// <param name="Element">Element symbol.</param>
/// <param name="MassPercent">Value; half the limit when below it.</param>
/// <param name="Uncertainty">Standard uncertainty in its two parts, mass percent.</param>
/// <param name="LimitMassPercent">When censored: the true content lies anywhere from 0 to this; else null.</param>
/// <param name="Method">How it was measured.</param>
/// <param name="Laboratory">Who measured it; null when not known: the bias is then never taken as shared.</param>
/// <param name="UncertaintyIsDefault">Whether the uncertainty is the default, from memory.</param>
/// <param name="Notes">Disagreement with another method, censoring.</param>
public sealed record ElementContent(
    string Element, double MassPercent, UncertaintyParts Uncertainty, double? LimitMassPercent, AnalyticalMethod Method, string? Laboratory,
    bool UncertaintyIsDefault, IReadOnlyList<string> Notes)
{
    /// <summary>Methods whose result of the element was kept, not used, and agrees with this one.</summary>
    public IReadOnlyList<AnalyticalMethod> AgreesWith { get; init; } = [];

    /// <summary>Whether a method bias is the same draw in both heats.</summary>
    public bool SharesBiasWith(ElementContent other) =>
        Laboratory is not null && Laboratory == other.Laboratory && Method == other.Method && Element == other.Element
        && LimitMassPercent is null && other.LimitMassPercent is null;
}
