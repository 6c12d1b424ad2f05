using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>What a file says and what is wrong with it, before anything is stored.</summary>
public sealed record IntakePreview
{
    /// <summary>Name of the file, without folder.</summary>
    public required string File { get; init; }

    /// <summary>SHA-256 of the file, hexadecimal.</summary>
    public required string Digest { get; init; }

    /// <summary>What each column was taken for.</summary>
    public IReadOnlyList<ColumnTaken> Columns { get; init; } = [];

    /// <summary>All faults, with place, found, expected.</summary>
    public IReadOnlyList<IntakeFault> Faults { get; init; } = [];

    /// <summary>Rows that contradict what the bench holds; filled by <see cref="IntakeRun.Against"/>. They are stored only as corrections with a reason.</summary>
    public IReadOnlyList<IntakeFault> Conflicts { get; init; } = [];

    /// <summary>What should be known and is no fault.</summary>
    public IReadOnlyList<IntakeNote> Notes { get; init; } = [];

    /// <summary>Slips of unit that the bench's history speaks for; each must be confirmed or mended before storing.</summary>
    public IReadOnlyList<UnitSuspicion> Suspicions { get; init; } = [];

    /// <summary>Good rows of coupon tables.</summary>
    public IReadOnlyList<CouponRow> Coupons { get; init; } = [];

    /// <summary>Good rows of chemistry tables.</summary>
    public IReadOnlyList<ChemistryResult> Chemistry { get; init; } = [];

    /// <summary>Good hot histories, each from one row or more.</summary>
    public IReadOnlyList<HotHistoryOfTable> HotHistories { get; init; } = [];

    /// <summary>Rows of data that were read: the good and the faulty.</summary>
    public int DataRows { get; init; }

    /// <summary>Good rows: of coupons, of chemistry, of hot histories.</summary>
    public int GoodRows => Coupons.Count + Chemistry.Count + HotHistories.Sum(h => h.Rows);

    /// <summary>Rows of data with a fault, and rows of a hot history that another of its rows spoils.</summary>
    public int FaultyRows => DataRows - GoodRows;

    /// <summary>True when the file says that it was exported from the demonstration: invented history never reaches a bench of one's own.</summary>
    public bool IsInvented => Notes.Any(n => n.Text.Contains(CouponTableText.InventedNote, StringComparison.Ordinal));

    /// <summary>True when nothing in the file is wrong.</summary>
    public bool IsClean => Faults.Count == 0;

    /// <summary>Key columns that the file has, by the names of the command contract.</summary>
    public IReadOnlySet<string> KeyColumns => Columns.Where(c => c.Role == ColumnRole.Key).Select(c => c.Name).ToHashSet(StringComparer.Ordinal);

    /// <summary>The good coupon rows as the comparison takes them.</summary>
    public CouponTable Table => new(Coupons, KeyColumns, File);

    /// <summary>Reads a file of a disk. Never throws for what is in it.</summary>
    /// <param name="path">The file.</param>
    /// <param name="maps">The user's word on columns; see <see cref="ColumnMap.Read"/>.</param>
    /// <param name="limits">Limits of size.</param>
    public static IntakePreview OfFile(string path, IReadOnlyList<ColumnMap>? maps = null, TableLimits? limits = null) =>
        Of(TableReader.ReadFile(path, limits), maps ?? [], limits ?? TableLimits.Usual);

    /// <summary>Reads the content of a file, as an upload brings it. Never throws for what is in it.</summary>
    public static IntakePreview OfContent(string fileName, byte[] content, IReadOnlyList<ColumnMap>? maps = null, TableLimits? limits = null) =>
        Of(TableReader.Read(fileName, content, limits), maps ?? [], limits ?? TableLimits.Usual);

    private static IntakePreview Of(RawFile raw, IReadOnlyList<ColumnMap> maps, TableLimits limits)
    {
        FaultList faults = new(raw.File, limits.Faults);
        List<IntakeNote> notes = [.. raw.Notes];
        foreach (IntakeFault fault in raw.Faults) faults.Add(fault);
        ColumnRecognition recognition = new(raw.File, maps);
        RecognisedSheet[] sheets = [.. raw.Sheets.Select(recognition.Recognise)];
        foreach (IntakeFault fault in sheets.SelectMany(s => s.Faults).Concat(sheets.Length == 0 ? [] : recognition.Unused(sheets))) faults.Add(fault);

        List<CouponRow> coupons = [];
        List<ChemistryResult> chemistry = [];
        Dictionary<CouponKey, int> seenCoupons = [];
        Dictionary<object, int> seenResults = [];
        List<HotHistoryOfTable> hot = [];
        Dictionary<string, int> seenHot = new(StringComparer.Ordinal);
        int data = 0;
        foreach (RecognisedSheet sheet in sheets)
        {
            notes.AddRange(NotRead(sheet));
            if (sheet.Faults.Count > 0)
            {
                data += sheet.Sheet.Rows.Count - sheet.HeadingAt - 1;
                continue;
            }
            DecimalSign sign = SignOf(sheet, raw);
            data += sheet.Kind switch
            {
                TableKind.Chemistry => new ChemistrySheetReader(raw.File, sheet, sign, faults, notes).Read(seenResults, chemistry),
                TableKind.HotHistory => new HotHistorySheetReader(raw.File, sheet, sign, faults, notes).Read(seenHot, hot),
                _ => new CouponSheetReader(raw.File, sheet, sign, faults, notes).Read(seenCoupons, coupons),
            };
            if (data == 0) faults.Add(new(raw.File, sheet.Sheet.Name, null, null, "a heading without rows", "at least one row below the heading"));
        }
        return new() { File = raw.File, Digest = raw.Digest, Columns = [.. sheets.SelectMany(s => s.Columns)], Faults = faults.All, Notes = notes, Coupons = coupons, Chemistry = chemistry, HotHistories = hot, DataRows = data };
    }

    private static IEnumerable<IntakeNote> NotRead(RecognisedSheet sheet)
    {
        string[] columns = [.. sheet.Columns.Where(c => c.Role == ColumnRole.NotRead).Select(c => c.Heading)];
        if (columns.Length > 0) yield return new(sheet.Sheet.Name, null, $"Columns not read: {string.Join(", ", columns)}.");
        if (sheet.Columns.FirstOrDefault(c => c.Name is "test temperature" or "from" or "to" && c.Unit != "K" && !c.Heading.Contains('°', StringComparison.Ordinal)) is { } temperature)
            yield return new(sheet.Sheet.Name, null, $"{temperature.Heading} is taken as {temperature.Unit}.");
        foreach (ColumnTaken column in sheet.Columns.Where(c => c.Role == ColumnRole.Property && c.Property is null))
            yield return new(sheet.Sheet.Name, null, $"{column.Meaning} is not in the table of properties; its scale and good direction must be given with the rule.");
    }

    private static DecimalSign SignOf(RecognisedSheet sheet, RawFile raw)
    {
        int[] figures = [.. sheet.Columns.Where(c => c.Role == ColumnRole.Property || c.Name is "value" or "uncertainty" or "test temperature" or "from" or "to" or "time" or "powder sieve").Select(c => c.Index)];
        bool semicolons = raw.Notes.Any(n => n.Text.Contains("semicolon", StringComparison.Ordinal));
        return TypedFigure.SignOf(sheet.Sheet.Rows.Skip(sheet.HeadingAt + 1).SelectMany(r => figures.Select(i => r[i]))) ?? (semicolons ? DecimalSign.Comma : DecimalSign.Point);
    }
}
