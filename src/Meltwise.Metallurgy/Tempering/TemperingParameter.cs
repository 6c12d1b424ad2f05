using System.Globalization;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Tempering;

/// <summary>One temper.</summary>
/// <param name="TemperatureC">Temperature of the load, °C.</param>
/// <param name="Hours">Time with the load at temperature, h.</param>
public readonly record struct Temper(double TemperatureC, double Hours);

/// <summary>One number for any list of tempers, and the single temper that equals them, by Hollomon and Jaffe.</summary>
/// <remarks>
/// <para><b>Formula.</b> P = T (c + log10 t), T in K, t in h. Several tempers: each is turned into the time at the hottest temperature that
/// has its own P, the times are added, and the sum gives P of the whole.</para>
/// <para><b>Assumptions.</b> Hardness depends on P alone: true while one process (softening of martensite) goes on.</para>
/// <para><b>Range.</b> c = 20 is common for tool steels (15 to 20 for high carbon). Tempers of 100 to 720 °C and 0.05 to 200 h.</para>
/// <para><b>Outside.</b> Refused. Inside, the notes say where the trade does not trust it: it carries no memory of how many times a coupon was
/// cooled, so one long temper never replaces two where retained austenite must turn; and on the steep side of a secondary-hardening peak
/// 10 °C of furnace error moves hardness more than any trade of time for temperature.</para>
/// <para><b>Source.</b> Hollomon and Jaffe, Trans. AIME 162 (1945) 223, from memory.</para>
/// </remarks>
public static class TemperingParameter
{
    /// <summary>The constant commonly used for tool steels, with time in hours.</summary>
    public const double ToolSteelConstant = 20;

    private const double LowestC = 100, HighestC = 720, ShortestHours = 0.05, LongestHours = 200;
    private const double ZeroCelsiusK = 273.15;

    /// <summary>The paper.</summary>
    public static Source Source { get; } = new("Hollomon and Jaffe, Trans. AIME 162 (1945) 223", SourceStatus.FromMemory);

    /// <summary>P of one temper, temperature in K and time in h inside it.</summary>
    public static double Of(Temper temper, double constant = ToolSteelConstant)
    {
        Require(temper);
        return (temper.TemperatureC + ZeroCelsiusK) * (constant + Math.Log10(temper.Hours));
    }

    /// <summary>P of a list of tempers and the single temper that equals them.</summary>
    /// <param name="tempers">Tempers in the order done.</param>
    /// <param name="constant">The constant c.</param>
    /// <exception cref="ArgumentException">No temper.</exception>
    /// <exception cref="OutsideModelRangeException">A temperature or time outside the range.</exception>
    public static TemperEquivalence Of(IReadOnlyList<Temper> tempers, double constant = ToolSteelConstant)
    {
        ArgumentNullException.ThrowIfNull(tempers);
        if (tempers.Count == 0) throw new ArgumentException("No temper was given. An untempered coupon has no tempering parameter.", nameof(tempers));
        double hottestC = tempers.Max(t => t.TemperatureC);
        double hours = tempers.Sum(t => HoursAt(Of(t, constant), hottestC, constant));
        double parameter = (hottestC + ZeroCelsiusK) * (constant + Math.Log10(hours));
        return new(parameter, new(hottestC, hours), constant, Source, Notes(tempers));
    }

    /// <summary>Hours at <paramref name="temperatureC"/> that give <paramref name="parameter"/>.</summary>
    public static double HoursAt(double parameter, double temperatureC, double constant = ToolSteelConstant) =>
        Math.Pow(10, parameter / (temperatureC + ZeroCelsiusK) - constant);

    /// <summary>Temperature, °C, that gives <paramref name="parameter"/> in <paramref name="hours"/>.</summary>
    public static double TemperatureAt(double parameter, double hours, double constant = ToolSteelConstant) =>
        parameter / (constant + Math.Log10(hours)) - ZeroCelsiusK;

    private static void Require(Temper temper)
    {
        if (!(temper.TemperatureC is >= LowestC and <= HighestC))
            throw new OutsideModelRangeException("Tempering parameter", "temper temperature", temper.TemperatureC, LowestC, HighestC, "°C");
        if (!(temper.Hours is >= ShortestHours and <= LongestHours))
            throw new OutsideModelRangeException("Tempering parameter", "temper time", temper.Hours, ShortestHours, LongestHours, "h");
    }

    private static List<string> Notes(IReadOnlyList<Temper> tempers)
    {
        List<string> notes = ["Times are added at the hottest temper's temperature, each by its own parameter (Hollomon and Jaffe)."];
        if (tempers.Count > 1)
            notes.Add("The equivalent single temper equals these in softening only: each cooling between tempers lets retained austenite turn, and a single temper does not.");
        double low = tempers.Min(t => t.TemperatureC), high = tempers.Max(t => t.TemperatureC);
        if (high >= 450)
            notes.Add("Near a secondary-hardening peak the parameter does not rise or fall in one direction with hardness: compare tempers of equal P only on one side of the peak.");
        if (low < 450 && high >= 450)
            notes.Add("Low and high tempers are mixed: the low ones count for almost nothing in P, as they do in hardness.");
        if (tempers.Any(t => t.TemperatureC is >= 260 and < 450))
            notes.Add("A temper of 260 to 450 °C lies where tempered martensite embrittles and hardness has a trough.");
        if (tempers.Any(t => t.Hours < 0.5))
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"A temper shorter than half an hour ({tempers.Min(t => t.Hours):0.##} h) is mostly heating-up time: count only the time with the load at temperature."));
        return notes;
    }
}

/// <summary>A list of tempers as one number.</summary>
/// <param name="Parameter">P, with K and h.</param>
/// <param name="SingleTemper">The single temper at the hottest temperature that has this P.</param>
/// <param name="Constant">The constant c used.</param>
/// <param name="Source">The formula's source.</param>
/// <param name="Notes">Where the trade does not trust it; never empty.</param>
public sealed record TemperEquivalence(double Parameter, Temper SingleTemper, double Constant, Source Source, IReadOnlyList<string> Notes)
{
    /// <summary>The temperature, °C, that does in <paramref name="hours"/> what these tempers did.</summary>
    public double TemperatureFor(double hours) => TemperingParameter.TemperatureAt(Parameter, hours, Constant);

    /// <summary>The hours at <paramref name="temperatureC"/> that do what these tempers did.</summary>
    public double HoursFor(double temperatureC) => TemperingParameter.HoursAt(Parameter, temperatureC, Constant);
}
