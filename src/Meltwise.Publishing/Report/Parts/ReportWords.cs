using System.Globalization;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>How reports write days, instants and lists.</summary>
internal static class ReportWords
{
    private static readonly CultureInfo s_english = CultureInfo.GetCultureInfo("en-GB");

    /// <summary>An instant: 3 March 2026, 09:14 UTC.</summary>
    public static string Stamp(DateTime utc) => utc.ToString("d MMMM yyyy, HH:mm 'UTC'", s_english);

    /// <summary>A day: 3 March 2026.</summary>
    public static string Day(DateOnly day) => day.ToString("d MMMM yyyy", s_english);

    /// <summary>A digest in groups of four, its first sixteen characters.</summary>
    public static string Digest(string digest) => string.Join(' ', digest[..Math.Min(16, digest.Length)].Chunk(4).Select(c => new string(c)));

    /// <summary>Names in a row: a, b and c.</summary>
    public static string List(IReadOnlyList<string> names) => names.Count switch
    {
        0 => "",
        1 => names[0],
        _ => string.Join(", ", names.Take(names.Count - 1)) + " and " + names[^1],
    };

    /// <summary>The first letter large.</summary>
    public static string Sentence(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    /// <summary>A text that ends as a sentence.</summary>
    public static string Ended(string text) => text.Length == 0 || text[^1] is '.' or '?' or '!' ? text : text + ".";
}
