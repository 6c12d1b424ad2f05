using System.Text.RegularExpressions;

namespace Meltwise.Publishing.Documents;

/// <summary>How a run of text stands out.</summary>
public enum RunStyle
{
    /// <summary>As the block is set.</summary>
    Plain,

    /// <summary>Strong.</summary>
    Strong,

    /// <summary>Italic.</summary>
    Italic,

    /// <summary>Struck through: a value that was amended.</summary>
    Struck,
}

/// <summary>A run of text in one style.</summary>
/// <param name="Text">The characters.</param>
/// <param name="Style">How it stands out.</param>
public sealed record Run(string Text, RunStyle Style = RunStyle.Plain);

/// <summary>Text of one or several runs. A number never parts from its unit at a line end.</summary>
public sealed partial record Rich(IReadOnlyList<Run> Runs)
{
    /// <summary>Nothing.</summary>
    public static Rich Empty { get; } = new([]);

    /// <summary>Plain text.</summary>
    public static implicit operator Rich(string text) => FromString(text);

    /// <summary>Plain text.</summary>
    public static Rich FromString(string text) => new([new(Bind(text))]);

    /// <summary>Runs, bound.</summary>
    public static Rich Of(params IReadOnlyList<Run> runs) => new([.. runs.Select(r => r with { Text = Bind(r.Text) })]);

    /// <summary>Strong first words, then plain text.</summary>
    public static Rich Led(string lead, string text) => Of(new Run(lead, RunStyle.Strong), new Run(" " + text));

    /// <summary>The word for what nobody knows.</summary>
    public static Rich Unknown { get; } = new([new("unknown", RunStyle.Italic)]);

    /// <summary>The text, or <see cref="Unknown"/> when there is none.</summary>
    public static Rich OrUnknown(string? text) => string.IsNullOrWhiteSpace(text) ? Unknown : text;

    /// <summary>The words for what nobody wrote down.</summary>
    public static Rich NotRecorded { get; } = new([new("not recorded", RunStyle.Italic)]);

    /// <summary>The text, or <see cref="NotRecorded"/> when there is none.</summary>
    public static Rich OrNotRecorded(string? text) => string.IsNullOrWhiteSpace(text) ? NotRecorded : text;

    /// <summary>All characters.</summary>
    public string PlainText => string.Concat(Runs.Select(r => r.Text));

    private static string Bind(string text) => Quantity().Replace(text, "\u00A0");

    [GeneratedRegex(@"(?<=\d) (?=(J|HRC|HBW|°C|°F|ft·lbf|%|mm³|mm|µm|ppm|wt%|vol%|h|min|K|bar)(\W|$))|(?<=[\d\w]) (?=×)|(?<=×) |(?<=±) |(?<=\d) (?=±)", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Quantity();
}
