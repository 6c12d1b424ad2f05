using System.Text.RegularExpressions;
using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Report;

/// <summary>Names that a public version must not hold: replaces them in text, and looks for any that is left.</summary>
public sealed class PrivateNames
{
    private readonly IReadOnlyDictionary<string, string> _public;
    private readonly Regex? _inText;

    /// <summary>Private names with what stands in their place.</summary>
    public PrivateNames(IReadOnlyDictionary<string, string> replacements)
    {
        _public = replacements;
        string[] words = [.. replacements.Keys.Where(n => n.Length >= 2).OrderByDescending(n => n.Length).Select(Regex.Escape)];
        _inText = words.Length == 0 ? null : new Regex($@"(?<![\p{{L}}\p{{N}}])({string.Join('|', words)})(?![\p{{L}}\p{{N}}])", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant, TimeSpan.FromSeconds(5));
    }

    /// <summary>The private names, without those that a label itself contains: they are generic words and give nobody away.</summary>
    public IReadOnlyList<string> All => [.. _public.Keys.Where(n => !_public.Values.Any(l => l.Contains(n, StringComparison.OrdinalIgnoreCase)))];

    /// <summary>What stands for a name.</summary>
    public string Of(string name) => _public.TryGetValue(name, out string? label) ? label : InText(name);

    /// <summary>Text with every private name replaced.</summary>
    public string InText(string text) => _inText is null ? text : _inText.Replace(text, m => _public.First(p => string.Equals(p.Key, m.Value, StringComparison.OrdinalIgnoreCase)).Value);

    /// <summary>Stops a document that still holds a private name.</summary>
    /// <exception cref="ReportFaultException">One is left; it is not named in full.</exception>
    internal static void Check(ReportDocument document)
    {
        if (document.PrivateNames.Count == 0)
            return;
        Look(document.PrivateNames, [System.Net.WebUtility.HtmlDecode(ReportHtml.Body(document)), document.Title]);
    }

    /// <summary>Stops texts that still hold a private name.</summary>
    /// <exception cref="ReportFaultException">One is left; it is not named in full.</exception>
    internal void CheckTexts(IEnumerable<string> texts) => Look(All, texts);

    private static void Look(IReadOnlyList<string> hidden, IEnumerable<string> texts)
    {
        PrivateNames names = new(hidden.ToDictionary(n => n, _ => "", StringComparer.OrdinalIgnoreCase));
        if (texts.Select(t => names._inText?.Match(t)).FirstOrDefault(m => m is { Success: true }) is { } found)
            throw new ReportFaultException($"The public version was not written: a private name that begins with “{found.Value[0]}” and has {found.Length} characters is still in it. The full version is not affected. Rename the record, or take the name out of the free text.");
    }
}
