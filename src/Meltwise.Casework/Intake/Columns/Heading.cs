using System.Text.RegularExpressions;

namespace Meltwise.Casework.Intake;

/// <summary>A heading taken apart: <c>Hardness 2 [HRC]</c> is the name <c>hardness</c>, repeat 2, unit <c>HRC</c>.</summary>
/// <param name="Name">Lower case, single spaces, without unit and repeat number.</param>
/// <param name="Unit">What stood in brackets; null when nothing did.</param>
internal sealed partial record Heading(string Name, string? Unit)
{
    public static Heading Of(string text)
    {
        Match match = Parts().Match(text.Trim());
        string name = match.Success ? match.Groups["name"].Value : text;
        string? unit = match.Success ? match.Groups["unit"].Value.Trim() : null;
        name = Spaces().Replace(name.ToLowerInvariant(), " ").Trim(' ', '.', ':', '#', ',');
        return new(name, string.IsNullOrEmpty(unit) ? null : unit);
    }

    /// <summary>The name without a repeat number at its end.</summary>
    public string WithoutNumber => Number().Replace(Name, "");

    [GeneratedRegex(@"^(?<name>.*?)[\s,]*(?:\[(?<unit>[^\]]*)\]|\((?<unit>[^)]*)\))\s*$", RegexOptions.ExplicitCapture | RegexOptions.Singleline, 1000)]
    private static partial Regex Parts();

    [GeneratedRegex(@"[\s_]+", RegexOptions.None, 1000)]
    private static partial Regex Spaces();

    [GeneratedRegex(@"\s*[#-]?\s*\d{1,2}$", RegexOptions.None, 1000)]
    private static partial Regex Number();
}
