using System.Globalization;
using System.Security.Cryptography;

namespace Meltwise.Casework.Intake;

/// <summary>Reads CSV, TSV and XLSX files as people have them into sheets of text, or says exactly why not. Never throws for what is in a file.</summary>
public static class TableReader
{
    private const string Tables = "a table as CSV, TSV or XLSX";

    /// <summary>Reads a file of a disk.</summary>
    public static RawFile ReadFile(string path, TableLimits? limits = null)
    {
        TableLimits within = limits ?? TableLimits.Usual;
        string name = Path.GetFileName(path);
        try
        {
            FileInfo file = new(path);
            if (!file.Exists) return Unread(name, "", Directory.Exists(path) ? "a folder" : "no such file", "the path of a table");
            return file.Length > within.FileBytes ? Unread(name, "", Size(file.Length), $"at most {Size(within.FileBytes)}") : Read(name, File.ReadAllBytes(path), within);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return Unread(name, "", "a file that cannot be opened", "a file that you may read and that no other program holds");
        }
    }

    /// <summary>Reads the content of a file, as an upload brings it.</summary>
    public static RawFile Read(string fileName, byte[] content, TableLimits? limits = null)
    {
        TableLimits within = limits ?? TableLimits.Usual;
        string digest = Convert.ToHexStringLower(SHA256.HashData(content));
        if (content.Length == 0) return Unread(fileName, digest, "an empty file", Tables);
        if (content.LongLength > within.FileBytes) return Unread(fileName, digest, Size(content.LongLength), $"at most {Size(within.FileBytes)}");
        if (content.AsSpan().StartsWith("PK\u0003\u0004"u8)) return ReadWorkbook(fileName, digest, content, within);
        if (content.AsSpan().StartsWith(new byte[] { 0xD0, 0xCF, 0x11, 0xE0 })) return Unread(fileName, digest, "a workbook in the old binary format, or one with a password", "a workbook saved as XLSX, without password");
        return TextDecoding.Decode(content) is { } decoded
            ? ReadText(fileName, digest, decoded.Text, decoded.Encoding, within)
            : Unread(fileName, digest, "a binary file", Tables);
    }

    private static RawFile ReadWorkbook(string fileName, string digest, byte[] content, TableLimits limits)
    {
        List<RawSheet> sheets = [];
        List<IntakeNote> notes = [];
        string? why = Workbook.Read(content, limits, sheets, notes);
        if (why is not null) return Unread(fileName, digest, why, "an XLSX workbook within the limits of size, rows and columns");
        return sheets.Count == 0 ? Unread(fileName, digest, "a workbook without any filled cell", Tables) : new(fileName, digest, sheets, [], notes);
    }

    private static RawFile ReadText(string fileName, string digest, string text, string encoding, TableLimits limits)
    {
        char separator = DelimitedText.FindSeparator(text);
        List<RawRow> rows = [];
        int unclosed = DelimitedText.Read(text, separator, new(), limits.Rows + 1, limits.Columns, rows.Add);
        if (unclosed > 0)
            return new(fileName, digest, [], [new(fileName, null, unclosed, null, "a quotation mark that is never closed", "a closing quotation mark before the end of the file")], []);
        if (rows.Count == 0) return Unread(fileName, digest, "only blank lines", Tables);
        if (rows.Count > limits.Rows) return Unread(fileName, digest, string.Create(CultureInfo.InvariantCulture, $"more than {limits.Rows} rows"), string.Create(CultureInfo.InvariantCulture, $"at most {limits.Rows}"));
        if (rows.Find(r => r.Cells.Length > limits.Columns) is { } wide)
            return new(fileName, digest, [], [new(fileName, null, wide.Number, null, string.Create(CultureInfo.InvariantCulture, $"more than {limits.Columns} columns"), string.Create(CultureInfo.InvariantCulture, $"at most {limits.Columns}"))], []);
        if (rows.Find(r => Array.Exists(r.Cells, c => c.Length > limits.CellCharacters)) is { } deep)
            return new(fileName, digest, [], [new(fileName, null, deep.Number, null, string.Create(CultureInfo.InvariantCulture, $"a cell of more than {limits.CellCharacters} characters"), "a shorter cell; perhaps a quotation mark is missing")], []);
        string separatorName = separator switch { '\t' => "tab", ';' => "semicolon", _ => "comma" };
        IntakeNote[] notes = encoding == "UTF-8" ? [] : [new(null, null, $"The file was read as {encoding}; look at the signs beyond plain letters.")];
        return new(fileName, digest, [new(null, rows, new HashSet<(int, int)>())], [], [.. notes, new(null, null, $"Cells are separated by {separatorName}.")]);
    }

    private static RawFile Unread(string fileName, string digest, string found, string expected) =>
        new(fileName, digest, [], [new(fileName, null, null, null, found, expected)], []);

    private static string Size(long bytes) => string.Create(CultureInfo.InvariantCulture, $"{bytes / 1048576.0:0.#} MB");
}
