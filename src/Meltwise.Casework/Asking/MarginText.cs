using System.Globalization;
using System.Text.RegularExpressions;
using Meltwise.Domain;

namespace Meltwise.Casework.Asking;

/// <summary>Margins as people write them: <c>15%</c>, <c>0.80..1.25</c>, <c>3 J</c>, <c>±3 J</c>, <c>1 HRC</c>.</summary>
public static partial class MarginText
{
    /// <summary>Forms that are read, for messages and help.</summary>
    public const string Forms = "a margin is written 15%, 0.80..1.25, 3 J (or ±3 J), or 1 HRC";

    /// <summary>Reads a margin for a property.</summary>
    /// <param name="text">What was typed; decimal point or comma.</param>
    /// <param name="property">The property it is for: its units are known here, and HRC is a difference for hardness itself but goes through the trend for any other property.</param>
    /// <param name="margin">The margin; null when the text is none.</param>
    /// <param name="fault">What is wrong with the text, in words; empty when nothing is.</param>
    public static bool TryRead(string text, Property property, out Margin? margin, out string fault)
    {
        (margin, fault) = Read(text.Trim().Replace(',', '.'), property);
        return margin is not null;
    }

    /// <summary>Writes a margin so that <see cref="TryRead"/> reads it back.</summary>
    public static string Write(Margin margin) => margin switch
    {
        Margin.Ratio r when Math.Abs((r.Low * r.High) - 1) < 1e-12 && IsWholePercent(r.High) => string.Create(CultureInfo.InvariantCulture, $"{(r.High - 1) * 100:0.##}%"),
        Margin.Ratio r => string.Create(CultureInfo.InvariantCulture, $"{r.Low:0.00##}..{r.High:0.00##}"),
        Margin.Absolute a => string.Create(CultureInfo.InvariantCulture, $"±{a.PlusMinus:R} {a.Unit}"),
        Margin.InHardness h => string.Create(CultureInfo.InvariantCulture, $"{h.Hrc:R} HRC"),
        _ => throw new System.Diagnostics.UnreachableException(),
    };

    private static (Margin? Margin, string Fault) Read(string text, Property property)
    {
        if (Percent().Match(text) is { Success: true } percent)
            return Positive(percent.Groups["value"].Value) is { } p and < 1000
                ? OnRatios(property, new Margin.Ratio(1 / (1 + (p / 100)), 1 + (p / 100)))
                : (null, $"\"{text}\" is not a percentage above 0 and below 1000; {Forms}.");
        if (Range().Match(text) is { Success: true } range)
            return (Positive(range.Groups["low"].Value), Positive(range.Groups["high"].Value)) is ({ } low and < 1, { } high and > 1)
                ? OnRatios(property, new Margin.Ratio(low, high))
                : (null, $"\"{text}\" must run from a ratio below 1 to a ratio above 1; {Forms}.");
        if (Absolute().Match(text) is { Success: true } absolute)
            return InUnit(text, Positive(absolute.Groups["value"].Value), absolute.Groups["unit"].Value, property);
        return (null, $"\"{text}\" is not a margin; {Forms}.");
    }

    private static (Margin?, string) OnRatios(Property property, Margin.Ratio ratio) => property.Scale == PropertyScale.Logarithmic
        ? (ratio, "")
        : (null, $"{property.Name} is compared by difference, so its margin is a number of {property.StoredUnit.Name}, not a ratio.");

    private static (Margin?, string) InUnit(string text, double? value, string unit, Property property)
    {
        if (value is not { } amount) return (null, $"\"{text}\" must be above 0; {Forms}.");
        if (property.FindUnit(unit) is { } known) return (new Margin.Absolute(amount, known.Name), "");
        if (PropertyTable.Hardness.FindUnit(unit) is not null) return (new Margin.InHardness(amount), "");
        return (null, $"{property.Name} is not read in \"{unit}\". Its units are {string.Join(", ", property.Units.Select(u => u.Name))}; a margin may also be in HRC.");
    }

    private static double? Positive(string digits) => double.TryParse(digits, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value) && value > 0 && double.IsFinite(value) ? value : null;

    private static bool IsWholePercent(double high) => Math.Abs(Math.Round((high - 1) * 1e4) - ((high - 1) * 1e4)) < 1e-8;

    [GeneratedRegex(@"^(±|\+-|\+/-)?\s*(?<value>[0-9.]+)\s*%$", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Percent();

    [GeneratedRegex(@"^(?<low>[0-9]*\.?[0-9]+)\s*(\.\.|…|-|–|to)\s*(?<high>[0-9]*\.?[0-9]+)$", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Range();

    [GeneratedRegex(@"^(±|\+-|\+/-)?\s*(?<value>[0-9]*\.?[0-9]+)\s*(?<unit>[^0-9\s].*)$", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Absolute();
}
