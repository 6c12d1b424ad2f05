using System.CommandLine;
using System.Globalization;
using Meltwise.Casework.Asking;
using Meltwise.Domain;

namespace Meltwise.Cli.Commands;

/// <summary>What is typed for a further property, <c>property=value</c>.</summary>
internal static class OtherPropertyText
{
    /// <summary>Properties with their margins, or null where nothing is typed.</summary>
    public static OtherProperty[]? Margins(ParseResult parsed, Option<string[]> option)
    {
        string[] typed = parsed.GetValue(option) ?? [];
        return typed.Length == 0 ? null : [.. typed.Select(t => Margin(t, option.Name))];
    }

    /// <summary>Numbers by property, in the form <c>hardness=0.4</c>.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="option">The option.</param>
    /// <param name="known">Properties that may be named.</param>
    /// <param name="what">What the number is, with its limits.</param>
    /// <param name="isGood">True for a number inside the limits.</param>
    public static IReadOnlyDictionary<string, double> Numbers(ParseResult parsed, Option<string[]> option, IReadOnlyList<string> known, string what, Func<double, bool> isGood)
    {
        Dictionary<string, double> numbers = new(StringComparer.OrdinalIgnoreCase);
        foreach (string typed in parsed.GetValue(option) ?? [])
        {
            (string name, string text) = Split(typed, option.Name, "hardness=0.4");
            string property = PropertyTable.Find(name)?.Name ?? name;
            if (!known.Contains(property, StringComparer.OrdinalIgnoreCase)) throw Fault.Usage($"{option.Name} \"{name}\" is no further primary property of this plan{(known.Count == 0 ? "; name one with --primary" : $" ({string.Join(", ", known)})")}.");
            if (!(double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value) && isGood(value))) throw Fault.Usage($"{option.Name} {name}: \"{text}\" is not {what}.");
            numbers[property] = value;
        }
        return numbers;
    }

    /// <summary>The two sides of an equals sign.</summary>
    public static (string Name, string Value) Split(string typed, string option, string example)
    {
        int equals = typed.IndexOf('=', StringComparison.Ordinal);
        return equals < 0 ? throw Fault.Usage($"{option} \"{typed}\" has no equals sign; write {option} \"{example}\".") : (typed[..equals].Trim(), typed[(equals + 1)..].Trim());
    }

    private static OtherProperty Margin(string typed, string option)
    {
        (string name, string value) = Split(typed, option, "hardness=1 HRC");
        Property property = PropertyTable.Find(name) ?? throw Fault.Usage($"{option} \"{name}\" is not in the table of properties ({string.Join(", ", PropertyTable.All.Select(p => p.Name))}).");
        return MarginText.TryRead(value, property, out Margin? margin, out string fault) ? new(property.Name, margin!) : throw Fault.Usage($"{option} {name}: {fault}");
    }
}
