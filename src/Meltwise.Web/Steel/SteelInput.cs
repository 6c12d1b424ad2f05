using System.Globalization;
using Meltwise.Casework.Explaining;
using Meltwise.Casework.Recording;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Tempering;

namespace Meltwise.Web.Steel;

/// <summary>What is typed into the steel calculator: one or two compositions, a hardening temperature, the coldest temperature of the quench.</summary>
internal static class SteelInput
{
    /// <summary>Lowest and highest temperature the calculator takes, °C.</summary>
    public const double LowestC = 700, HighestC = 1250;

    private const double LowestTemperC = 100, HighestTemperC = 700, ShortestTemperH = 0.05, LongestTemperH = 100;

    /// <summary>A composition as typed: mass percent, balance iron.</summary>
    /// <returns>The composition, or what is wrong with it; both null when nothing was typed.</returns>
    public static (SteelComposition? Steel, string? Fault) Read(string? text)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            return (null, null);
        }

        try
        {
            return (SteelComposition.Parse(text), null);
        }
        catch (SteelCompositionException fault)
        {
            return (null, fault.Message);
        }
    }

    /// <summary>A temperature as typed, °C unless F or K stands behind it.</summary>
    public static (double? Celsius, string? Fault) ReadTemperature(string? text, double low, double high)
    {
        string typed = (text ?? "").Trim().TrimEnd('°').Replace(',', '.').Replace('\u2212', '-');
        string unit = typed.Length > 0 && char.IsLetter(typed[^1]) ? typed[^1..].ToUpperInvariant() : "C";
        string number = typed.TrimEnd('C', 'F', 'K', 'c', 'f', 'k', ' ', '°');
        if (!double.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out double value))
        {
            return (null, $"“{text}” is not a temperature. Expected a number, in °C unless F or K stands behind it.");
        }

        double celsius = unit switch { "F" => (value - 32) * 5 / 9, "K" => value - 273.15, _ => value };
        return celsius >= low && celsius <= high
            ? (celsius, null)
            : (null, string.Create(CultureInfo.InvariantCulture, $"{text} is {celsius:0} °C; the models hold from {low:0} to {high:0} °C."));
    }

    /// <summary>Tempers as typed, °C and hours: <c>200/2, 200/2</c>.</summary>
    /// <returns>The tempers, or what is wrong; no temper when nothing was typed.</returns>
    public static (IReadOnlyList<Temper> Tempers, string? Fault) ReadTempers(string? text)
    {
        List<Temper> tempers = [];
        foreach (string entry in (text ?? "").Split([',', ';'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            string[] parts = entry.Split('/', StringSplitOptions.TrimEntries);
            if (parts is not [var temperature, var time]
                || !double.TryParse(temperature, NumberStyles.Float, CultureInfo.InvariantCulture, out double celsius) || celsius is not (>= LowestTemperC and <= HighestTemperC)
                || !double.TryParse(time, NumberStyles.Float, CultureInfo.InvariantCulture, out double hours) || hours is not (>= ShortestTemperH and <= LongestTemperH))
            {
                return ([], string.Create(CultureInfo.InvariantCulture,
                    $"“{entry}” is not a temper. Expected °C and hours, as in 200/2: {LowestTemperC:0} to {HighestTemperC:0} °C, {ShortestTemperH:0.##} to {LongestTemperH:0} h."));
            }

            tempers.Add(new(celsius, hours));
        }

        return (tempers, null);
    }

    /// <summary>The undissolved share as typed, in percent: a short soak, or equilibrium when nothing was typed.</summary>
    public static (ISoakAssumption? Soak, string? Fault) ReadUndissolved(string? text)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            return (null, null);
        }

        return double.TryParse(text.Trim().TrimEnd('%').Replace(',', '.'), NumberStyles.AllowDecimalPoint | NumberStyles.AllowTrailingWhite, CultureInfo.InvariantCulture, out double percent)
            && percent / 100 is >= 0 and <= PartialSoak.HighestShare
            ? (new PartialSoak(percent / 100), null)
            : (null, string.Create(CultureInfo.InvariantCulture, $"“{text}” is not an undissolved share. Expected a percentage from 0 to {100 * PartialSoak.HighestShare:0}, or nothing."));
    }

    /// <summary>The measured chemistry of a heat as it would be typed, the preferred method of each element; null when none is recorded.</summary>
    public static string? OfHeat(IBench bench, string? heat)
    {
        if (string.IsNullOrWhiteSpace(heat))
        {
            return null;
        }

        string[] parts = MeasuredChemistry.Of(heat, bench.Chemistry(heat)) is { } measured
            ?
            [
                .. measured.Contents.Where(c => c.LimitMassPercent is null && ParameterSet.ToolSteel.Holds(c.Element))
                    .Select(c => string.Create(CultureInfo.InvariantCulture, $"{c.Element} {c.MassPercent:0.####}")),
            ]
            : [];
        return parts.Length == 0 ? null : string.Join(", ", parts);
    }
}
