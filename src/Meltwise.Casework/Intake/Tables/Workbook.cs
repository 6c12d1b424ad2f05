using System.Globalization;
using System.IO.Compression;
using System.Xml;
using System.Xml.Linq;

namespace Meltwise.Casework.Intake;

/// <summary>Reads the worksheets of an XLSX workbook as text, with the decimals that the cells show.</summary>
/// <remarks>Office Open XML (ECMA-376, part 1, SpreadsheetML). Read here rather than by a library so that no cell can vanish: a formula without a stored result and an
/// error value come out as text and become faults, not blanks. Documents with a type definition are refused, and sizes are limited while unpacking.</remarks>
internal sealed class Workbook
{
    private static readonly XNamespace s_sheets = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    private static readonly XNamespace s_links = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

    private readonly ZipArchive _archive;
    private readonly TableLimits _limits;
    private readonly TextPool _pool = new();

    private Workbook(ZipArchive archive, TableLimits limits) => (_archive, _limits) = (archive, limits);

    /// <summary>Hands over the sheets. Returns why the workbook cannot be read, or null.</summary>
    public static string? Read(byte[] content, TableLimits limits, List<RawSheet> sheets, List<IntakeNote> notes)
    {
        try
        {
            using ZipArchive archive = new(new MemoryStream(content), ZipArchiveMode.Read);
            if (archive.Entries.Sum(e => e.Length) > limits.UnpackedBytes) return "a workbook that unpacks to more than the limit";
            return archive.GetEntry("xl/workbook.xml") is null ? "an archive that is no XLSX workbook" : new Workbook(archive, limits).ReadSheets(sheets, notes);
        }
        catch (Exception e) when (e is InvalidDataException or XmlException or FormatException or IOException or OverflowException or NotSupportedException or ArgumentException)
        {
            return "a workbook that is damaged, protected by a password, or not finished saving";
        }
    }

    private string? ReadSheets(List<RawSheet> sheets, List<IntakeNote> notes)
    {
        XElement book = Document("xl/workbook.xml")!;
        Dictionary<string, string> targets = (Document("xl/_rels/workbook.xml.rels")?.Elements() ?? [])
            .ToDictionary(r => (string?)r.Attribute("Id") ?? "", r => (string?)r.Attribute("Target") ?? "", StringComparer.Ordinal);
        string[] texts = [.. SharedTexts()];
        CellFormats formats = new(Document("xl/styles.xml"), (string?)book.Element(s_sheets + "workbookPr")?.Attribute("date1904") is "1" or "true");
        foreach (XElement sheet in book.Descendants(s_sheets + "sheet"))
        {
            string name = (string?)sheet.Attribute("name") ?? "";
            if ((string?)sheet.Attribute("state") is "hidden" or "veryHidden")
            {
                notes.Add(new(name, null, "The sheet is hidden and was not read."));
                continue;
            }
            string target = targets.GetValueOrDefault((string?)sheet.Attribute(s_links + "id") ?? "", "");
            string path = target.StartsWith('/') ? target[1..] : "xl/" + target;
            if (_archive.GetEntry(path) is not { } entry) continue;
            using XmlReader xml = Open(entry);
            Worksheet worksheet = new(xml, texts, formats, _pool, _limits);
            if (worksheet.Read(name, out RawSheet? read) is { } why) return $"{why} in sheet {name}";
            if (read!.Rows.Count > 0) sheets.Add(read);
            else notes.Add(new(name, null, "The sheet is empty."));
        }
        return null;
    }

    // Rich text has its parts in runs; phonetic guides are no part of it.
    private IEnumerable<string> SharedTexts()
    {
        foreach (XElement item in Document("xl/sharedStrings.xml")?.Elements(s_sheets + "si") ?? [])
            yield return string.Concat(item.Elements(s_sheets + "t").Concat(item.Elements(s_sheets + "r").Elements(s_sheets + "t")).Select(t => t.Value)).Trim();
    }

    private XElement? Document(string path)
    {
        if (_archive.GetEntry(path) is not { } entry) return null;
        using XmlReader xml = Open(entry);
        return XDocument.Load(xml).Root;
    }

    private XmlReader Open(ZipArchiveEntry entry) => XmlReader.Create(
        entry.Open(), new XmlReaderSettings { DtdProcessing = DtdProcessing.Prohibit, XmlResolver = null, CloseInput = true, MaxCharactersInDocument = _limits.UnpackedBytes, IgnoreComments = true, IgnoreWhitespace = false });
}

/// <summary>How numbers of a workbook are shown: its decimals, as a percentage, as a day.</summary>
internal sealed class CellFormats
{
    private static readonly XNamespace s_sheets = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";

    private readonly string[] _formats;
    private readonly bool _from1904;

    public CellFormats(XElement? styles, bool from1904)
    {
        _from1904 = from1904;
        Dictionary<int, string> own = [];
        foreach (XElement format in styles?.Descendants(s_sheets + "numFmt") ?? []) own[(int)format.Attribute("numFmtId")!] = (string?)format.Attribute("formatCode") ?? "";
        _formats = [.. (styles?.Element(s_sheets + "cellXfs")?.Elements(s_sheets + "xf") ?? []).Select(x => Code((int?)x.Attribute("numFmtId") ?? 0, own))];
    }

    /// <summary>The number as the cell shows it; digits beyond the format are never cut off.</summary>
    public string Show(double number, int style)
    {
        string format = style >= 0 && style < _formats.Length ? _formats[style] : "";
        if (format == Day) return ShowDay(number);
        bool percent = format.EndsWith('%');
        // A percentage is scaled as a decimal number: 0.07 shows 7, not 7.000000000000001.
        string shortest = Plain(percent ? Scaled(number) : number);
        int point = format.IndexOf('.', StringComparison.Ordinal);
        int decimals = point < 0 ? 0 : format.AsSpan(point + 1).Count('0');
        int has = shortest.Contains('.', StringComparison.Ordinal) ? shortest.Length - shortest.IndexOf('.', StringComparison.Ordinal) - 1 : 0;
        if (decimals > has && !shortest.Contains('E', StringComparison.Ordinal)) shortest += (has == 0 ? "." : "") + new string('0', decimals - has);
        return percent ? shortest + " %" : shortest;
    }

    private const string Day = "day";

    private static double Scaled(double number) => Math.Abs(number) < 1e20 ? (double)((decimal)number * 100) : number * 100;

    private static string Plain(double number) =>
        Math.Abs(number) is >= 1e15 or (> 0 and < 1e-5) ? number.ToString("R", CultureInfo.InvariantCulture) : ((decimal)number).ToString(CultureInfo.InvariantCulture);

    private string ShowDay(double serial)
    {
        if (serial is < 1 or > 2_900_000) return Plain(serial);
        DateTime instant = _from1904 ? new DateTime(1904, 1, 1, 0, 0, 0, DateTimeKind.Unspecified).AddDays(serial) : DateTime.FromOADate(serial);
        return instant.ToString(instant.TimeOfDay.Ticks == 0 ? "yyyy-MM-dd" : "yyyy-MM-ddTHH:mm:ss", CultureInfo.InvariantCulture);
    }

    // Built-in numbers of ECMA-376 part 1, 18.8.30.
    private static string Code(int id, Dictionary<int, string> own) => id switch
    {
        0 or 1 or 3 => "",
        2 or 4 => "0.00",
        9 => "0%",
        10 => "0.00%",
        (>= 14 and <= 17) or 22 or (>= 27 and <= 36) or (>= 50 and <= 58) => Day,
        _ => own.TryGetValue(id, out string? code) ? Simple(code) : "",
    };

    private static string Simple(string code)
    {
        string first = code.Split(';')[0];
        System.Text.StringBuilder kept = new();
        bool quoted = false;
        bool bracketed = false;
        for (int i = 0; i < first.Length; i++)
        {
            char c = first[i];
            if (c == '"') quoted = !quoted;
            else if (c == '[') bracketed = true;
            else if (c == ']') bracketed = false;
            else if (c is '\\' or '_' or '*') i++;
            else if (!quoted && !bracketed) kept.Append(c);
        }
        string simple = kept.ToString().Trim();
        return simple.AsSpan().ContainsAny("ydYD") ? Day : simple;
    }
}
