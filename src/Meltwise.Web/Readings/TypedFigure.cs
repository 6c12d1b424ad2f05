using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Web.Readings;

/// <summary>A figure typed by hand: decimal point or comma, a bound as <c>&gt;120</c> or <c>&lt;0.05</c>, a unit behind it if the person types one.</summary>
internal static class TypedFigure
{
    /// <summary>Reads a figure.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="unit">Unit that stands beside the field.</param>
    /// <param name="property">The property, whose units and limits of belief apply; null for none.</param>
    /// <returns>The figure, or what is wrong with it and what was expected.</returns>
    public static (CensoredValue? Value, string? Fault) Read(string? text, string unit, Property? property)
    {
        string typed = (text ?? "").Trim();
        if (typed.Length == 0)
        {
            return (null, "Nothing was typed. A number was expected.");
        }

        Censoring censoring = typed[0] switch { '>' => Censoring.Above, '<' => Censoring.Below, _ => Censoring.None };
        string rest = typed.TrimStart('>', '<', ' ');
        int end = rest.Length;
        while (end > 0 && !char.IsAsciiDigit(rest[end - 1]))
        {
            end--;
        }

        string number = rest[..end].Replace(',', '.').Replace('\u2212', '-');
        string tail = rest[end..].Trim();
        if (!double.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) || !double.IsFinite(value))
        {
            return (null, $"“{typed}” is not a number. A number with a decimal point or comma was expected, such as 61.5.");
        }

        string usedUnit = tail.Length > 0 ? tail : unit;
        if (property is not null)
        {
            if (property.FindUnit(usedUnit) is not { } known)
            {
                return (null, $"{Page.Written.Sentence(property.Name)} is not read in “{usedUnit}”. Expected: {string.Join(", ", property.Units.Select(u => u.Name))}.");
            }

            usedUnit = known.Name;
            double stored = value * known.Factor;
            if (censoring == Censoring.None && (stored <= property.LowestBelievable || stored > property.HighestBelievable))
            {
                return (null, $"{typed} {usedUnit} cannot be {property.Name}. Expected: above {property.LowestBelievable:0.##} and up to {property.HighestBelievable:0.##} {property.StoredUnit.Name}.");
            }
        }

        string kept = censoring switch { Censoring.Above => ">" + number, Censoring.Below => "<" + number, _ => number };
        return (new CensoredValue(value, usedUnit, censoring, kept), null);
    }
}
