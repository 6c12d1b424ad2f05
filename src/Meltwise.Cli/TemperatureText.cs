using System.Globalization;
using System.Text.RegularExpressions;
using Meltwise.Domain;

namespace Meltwise.Cli;

/// <summary>Temperatures as the command line takes them: a number and C, F or K.</summary>
internal static partial class TemperatureText
{
    public static Temperature Read(string text, string option)
    {
        Match match = Form().Match(text.Trim());
        if (!match.Success || !double.TryParse(match.Groups["value"].Value.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double value))
            throw Fault.Usage($"{option} \"{text}\" is not a temperature; write a number with C, F or K, as in 1020C or 1870F.");
        double celsius = char.ToUpperInvariant(match.Groups["unit"].Value[^1]) switch { 'F' => (value - 32) / 1.8, 'K' => value - 273.15, _ => value };
        return celsius >= -273.15
            ? Temperature.FromCelsius(celsius)
            : throw Fault.Usage($"{option} \"{text}\" is below absolute zero.");
    }

    /// <summary>The coldest temperature of a quench, °C: liquid nitrogen to what is still a quench.</summary>
    public static double ReadQuench(string text, string option) => Read(text, option).Celsius is var celsius && celsius is >= -200 and <= 300
        ? celsius
        : throw Fault.Usage(string.Create(CultureInfo.InvariantCulture, $"{option} \"{text}\" is {celsius:0} °C; expected -200 to 300 °C, the coldest temperature reached before tempering."));

    [GeneratedRegex("^(?<value>[-−]?[0-9]+([.,][0-9]+)?) *(?<unit>°? *[CFKcfk])$", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Form();
}
