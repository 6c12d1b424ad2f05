using System.Text;
using System.Text.RegularExpressions;
using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Report;

/// <summary>Names that a public version must not hold: replaces them in fields and in text, and looks for any that is left.</summary>
/// <remarks>Most names are unmistakable wherever they stand as a word. A name of one or two letters, or one that is also a word of the trade (<c>R</c>, <c>Steel</c>), is not: in sentences of the
/// program it is taken for the name only where a name must stand (over R, source R, 9 of R), in what a person typed wherever it stands in exactly this spelling.</remarks>
public sealed partial class PrivateNames
{
    private const RegexOptions Options = RegexOptions.CultureInvariant;
    private static readonly TimeSpan s_patience = TimeSpan.FromSeconds(5);

    // Words that the report itself uses; a source may be called so.
    private static readonly HashSet<string> s_common = new(
        ("steel powder ingot bar plate heat heats lot lots source sources client laboratory hardness energy impact test tests reference candidate margin coupon coupons furnace load loads enquiry report grade route rule answer "
        + "question figure method verdict treatment temper quench oil gas salt air carbon oxygen nitrogen chromium vanadium scatter trend history pair pairs mean ratio difference outcome data digest program seed data version "
        + "good better worse same equal north south east west river hill mill forge works hot cold high low new old first second one two three in on at of and or not none no yes unknown other").Split(' '), StringComparer.OrdinalIgnoreCase);

    private readonly Dictionary<string, string> _public;
    private readonly string[] _ambiguous;
    private readonly Regex? _plain, _placed, _typed;

    /// <summary>Private names with what stands in their place.</summary>
    public PrivateNames(IReadOnlyDictionary<string, string> replacements)
    {
        _public = new(StringComparer.OrdinalIgnoreCase);
        foreach ((string name, string label) in replacements)
            _public.TryAdd(Canonical(name), label);
        string[] names = [.. _public.Keys.Where(n => n.Length > 0).OrderByDescending(n => n.Length)];
        _ambiguous = [.. names.Where(IsAmbiguous)];
        string[] plain = [.. names.Except(_ambiguous).Select(Word)];
        _plain = plain.Length == 0 ? null : new(string.Join('|', plain), Options, s_patience);
        _placed = _ambiguous.Length == 0 ? null : Placed(_ambiguous);
        _typed = _ambiguous.Length == 0 ? null : new(string.Join('|', _ambiguous.Select(Typed)), Options, s_patience);
    }

    /// <summary>The private names, longest first.</summary>
    public IReadOnlyList<string> All => [.. _public.Keys.OrderByDescending(n => n.Length)];

    /// <summary>What stands in their place.</summary>
    public IReadOnlyList<string> Labels => [.. _public.Values.Distinct()];

    /// <summary>What stands for a field that holds a name.</summary>
    public string Of(string name) => _public.TryGetValue(Canonical(name), out string? label) ? label : InText(name);

    /// <summary>A sentence of the program with every private name replaced.</summary>
    public string InText(string text)
    {
        string composed = text.Normalize(NormalizationForm.FormC);
        string plain = Replace(_plain, composed);
        return Replace(_placed, plain);
    }

    /// <summary>What a person typed, with every private name replaced.</summary>
    public string InTyped(string text)
    {
        string composed = text.Normalize(NormalizationForm.FormC);
        // One pass for the ambiguous names first, so that a label put in is not searched for them.
        return Replace(_plain, Replace(_typed, composed));
    }

    /// <summary>Stops a document that still holds a private name.</summary>
    /// <exception cref="ReportFaultException">One is left; it is not named in full.</exception>
    internal static void Check(ReportDocument document)
    {
        if (document.PrivateNames.Count == 0)
            return;
        PrivateNames names = new(document.PrivateNames.ToDictionary(n => n, _ => "", StringComparer.OrdinalIgnoreCase));
        names.Look(document.PublicLabels, [Said(ReportHtml.Body(document)), document.Title, document.Foot]);
    }

    /// <summary>Stops texts that still hold a private name.</summary>
    /// <exception cref="ReportFaultException">One is left; it is not named in full.</exception>
    internal void CheckTexts(IEnumerable<string> texts) => Look(Labels, texts);

    private void Look(IReadOnlyList<string> labels, IEnumerable<string> texts)
    {
        // A label may hold a private name as a word of its own, such as Source R for R; that gives nobody away.
        string[] words = [.. labels.Where(l => l.Length > 0).OrderByDescending(l => l.Length).Select(l => Word(Canonical(l)))];
        Regex? masked = words.Length == 0 ? null : new(string.Join('|', words), Options, s_patience);
        foreach (string text in texts)
        {
            string open = text.Normalize(NormalizationForm.FormC);
            open = masked?.Replace(open, "□") ?? open;
            Match? found = new[] { _plain?.Match(open), _placed?.Match(open) }.FirstOrDefault(m => m is { Success: true });
            if (found is not null)
                throw new ReportFaultException($"The public version was not written: a private name that begins with “{found.Value.TrimStart()[0]}” and has {found.Value.Trim().Length} characters is still in it. The full version is not affected. Rename the record, or take the name out of the free text.");
        }
    }

    private string Replace(Regex? names, string text) => names is null ? text : names.Replace(text, m => _public[Canonical(m.Value)]);

    private static bool IsAmbiguous(string name) => (name.Length <= 2 && name.All(char.IsLetter)) || name.All(char.IsDigit) || s_common.Contains(name);

    // One spelling for all: composed letters, single blanks, one hyphen.
    private static string Canonical(string name) => Blanks().Replace(name.Normalize(NormalizationForm.FormC).Trim(), " ").Replace('\u2010', '-').Replace('\u2011', '-');

    private static string Spelling(string name) => Regex.Escape(name).Replace(@"\ ", @"\s+", StringComparison.Ordinal).Replace("-", @"[-\u2010\u2011]", StringComparison.Ordinal);

    // A whole word in any case; in exactly its own case a letter may follow a figure, for K17a is cut from K17. Digests hold small letters only.
    private static string Word(string name) =>
        $@"(?<![\p{{L}}\p{{N}}])(?:(?i:{Spelling(name)})(?![\p{{L}}\p{{N}}]){(char.IsDigit(name[^1]) ? $@"|{Spelling(name)}(?!\p{{N}})" : "")})";

    // Where the program's own sentences put the name of a source or a heat (Judging/Wording, Judging/Steps). A name of figures alone stands in fewer places: 6 of 8 is no heat.
    private static Regex Placed(string[] names)
    {
        string any = string.Join('|', names.Select(Spelling)), worded = string.Join('|', names.Where(n => !n.All(char.IsDigit)).Select(Spelling).DefaultIfEmpty("(?!)"));
        const string End = @"(?![\p{L}\p{N}])", Start = @"(?<![Qq]uestion\s)(?<![\p{L}\p{N}\-])";
        return new(
            $@"(?<=\b(?:[Hh]eats?|[Ss]ources?|[Ll]ots?|over|than|against|[Cc]oupons\ of|[Hh]eats\ of|\d+\ of)\s)(?:{worded}){End}"
            + $@"|(?<=\b[Hh]eat\s)(?:{any}){End}|(?<=\bthan\s)(?:{any})(?=[,.:]|\sin\s)"
            + $@"|{Start}(?:{worded})(?=\s(?:over|was|is|are|agreed|against|−)\s)|{Start}(?:{any})(?=\s\S+\s\S+\s(?:higher|lower)\sthan\s)"
            + $@"|(?<=(?:{any})\s(?:and|over|−)\s)(?:{any}){End}|{Start}(?:{any})(?=\s(?:and|over|−)\s(?:{any}){End})",
            Options, s_patience);
    }

    // A letter behind a number is a unit; A and I before a small letter are words; a figure is a name only behind heat, lot, cast, melt or bar.
    private static string Typed(string name)
    {
        string spelled = $@"(?<![\p{{L}}\p{{N}}]){(name.All(char.IsDigit) ? @"(?<=\b(?:[Hh]eat|[Ll]ot|[Cc]ast|[Mm]elt|[Bb]ar)s?\s)" : @"(?<!\d\s?)")}{Spelling(name)}(?![\p{{L}}\p{{N}}])";
        return name is "A" or "I" ? spelled + @"(?!\s\p{Ll})" : spelled;
    }

    // Text and spoken attributes of a page; names of classes and shapes are no content.
    private static string Said(string html) => System.Net.WebUtility.HtmlDecode(Tag().Replace(html, t => " " + string.Join(' ', SpokenAttribute().Matches(t.Value).Select(a => a.Groups["said"].Value)) + " "));

    [GeneratedRegex(@"\s+", RegexOptions.None, 1000)]
    private static partial Regex Blanks();

    [GeneratedRegex("<[^>]*>", RegexOptions.None, 10_000)]
    private static partial Regex Tag();

    [GeneratedRegex("(?:aria-label|data-[a-z-]+|href|alt|title)=\"(?<said>[^\"]*)\"", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex SpokenAttribute();
}
