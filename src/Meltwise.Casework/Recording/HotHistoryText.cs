using System.Globalization;
using System.Text.RegularExpressions;
using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>Hot stretches as they are typed, one to a line or parted by semicolons: <c>consolidation 1150 °C 3 h</c>, <c>reheat 1120 to 900 °C 40 min</c>.</summary>
public static partial class HotHistoryText
{
    /// <summary>Temperatures that are taken, °C; a model may take fewer.</summary>
    public const double LowestC = 300, HighestC = 1400;

    /// <summary>Longest stretch, h.</summary>
    public const double LongestH = 1000;

    /// <summary>Smallest and largest powder that is taken, µm.</summary>
    public const double FinestPowderUm = 10, CoarsestPowderUm = 1000;

    /// <summary>What was typed, or what is wrong with it.</summary>
    /// <param name="text">The stretches; empty gives none.</param>
    public static (IReadOnlyList<HotStep> Steps, string? Fault) Read(string? text)
    {
        List<HotStep> steps = [];
        foreach (string entry in (text ?? "").Split(['\n', ';'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            Match match = Entry().Match(entry);
            if (!match.Success)
                return ([], $"“{entry}” is not a hot stretch. Expected what it was, its temperature and its time, as in consolidation 1150 °C 3 h, or reheat 1120 to 900 °C 40 min.");
            double from = Celsius(match.Groups["from"], match.Groups["unit"]), to = match.Groups["to"].Success ? Celsius(match.Groups["to"], match.Groups["unit"]) : from;
            double hours = Number(match.Groups["time"]) / (match.Groups["timeunit"].Value == "min" ? 60 : 1);
            if (from is not (>= LowestC and <= HighestC) || to is not (>= LowestC and <= HighestC))
                return ([], string.Create(CultureInfo.InvariantCulture, $"“{entry}”: found {from:0}{(from.Equals(to) ? "" : $" to {to:0}")} °C, expected {LowestC:0} to {HighestC:0} °C."));
            if (hours is not (> 0 and <= LongestH))
                return ([], string.Create(CultureInfo.InvariantCulture, $"“{entry}”: found {hours:0.##} h, expected more than 0 and up to {LongestH:0} h."));
            string kind = match.Groups["kind"].Value.Trim(' ', ',', ':');
            steps.Add(new(kind.Length == 0 ? "soak" : kind, from, to, hours));
        }
        return (steps, null);
    }

    /// <summary>The stretches as they would be typed, parted by <paramref name="between"/>.</summary>
    public static string Write(IReadOnlyList<HotStep> steps, string between = "; ")
    {
        ArgumentNullException.ThrowIfNull(steps);
        return string.Join(between, steps.Select(s => string.Create(CultureInfo.InvariantCulture,
            $"{s.Kind} {s.FromC:0.#}{(s.FromC.Equals(s.ToC) ? "" : $" to {s.ToC:0.#}")} °C {s.Hours:0.###} h")));
    }

    private static double Celsius(Group value, Group unit) => unit.Value.ToUpperInvariant() switch
    {
        "F" => (Number(value) - 32) / 1.8,
        "K" => Number(value) - 273.15,
        _ => Number(value),
    };

    private static double Number(Group group) => double.Parse(group.Value.Replace(',', '.'), CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^(?<kind>[^\d]*)(?<![-−])(?<from>\d+([.,]\d+)?)( *°? *[CFK]? *(to|-|–|→) *(?<to>\d+([.,]\d+)?))? *°? *(?<unit>[CFK])? *[,/]? *(for )?(?<time>\d+([.,]\d+)?) *(?<timeunit>h|min)$",
        RegexOptions.ExplicitCapture | RegexOptions.IgnoreCase, 1000)]
    private static partial Regex Entry();
}
