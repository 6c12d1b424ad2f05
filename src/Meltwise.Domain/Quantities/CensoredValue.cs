using System.Globalization;

namespace Meltwise.Domain;

/// <summary>How a figure bounds the true value.</summary>
public enum Censoring
{
    /// <summary>The value itself was read.</summary>
    None,

    /// <summary>The true value lies above the figure: not broken, or above the usable range of the machine. Typed <c>&gt;120</c>.</summary>
    Above,

    /// <summary>The true value lies below the figure: under the limit of detection. Typed <c>&lt;0.05</c>.</summary>
    Below,
}

/// <summary>A figure as somebody typed it, with its unit and whether it is a value or a bound.</summary>
/// <param name="Value">The figure, in <paramref name="Unit"/>. Finite.</param>
/// <param name="Unit">Unit by the name the property table gives it, e.g. <c>J</c>, <c>ft·lbf</c>, <c>HRC</c>, <c>wt%</c>.</param>
/// <param name="Censoring">Value, or bound from above or below.</param>
/// <param name="Text">The characters as typed, digits kept: <c>61.0</c> stays <c>61.0</c>.</param>
public sealed record CensoredValue(double Value, string Unit, Censoring Censoring, string Text)
{
    /// <summary>A plain value without typed text, written in the shortest form that reads back to it.</summary>
    public static CensoredValue Of(double value, string unit) =>
        new(value, unit, Censoring.None, value.ToString("R", CultureInfo.InvariantCulture));

    /// <summary>As typed, with the unit.</summary>
    public override string ToString() => $"{Text} {Unit}";
}
