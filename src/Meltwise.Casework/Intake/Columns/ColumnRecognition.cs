using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>Kinds of table.</summary>
public enum TableKind
{
    /// <summary>One row a coupon; a history table is one too.</summary>
    Coupons,

    /// <summary>One row a chemistry result.</summary>
    Chemistry,

    /// <summary>One row a hot stretch of a heat.</summary>
    HotHistory,
}

/// <summary>A sheet with its heading found and its columns recognised.</summary>
internal sealed record RecognisedSheet(RawSheet Sheet, TableKind Kind, int HeadingAt, IReadOnlyList<ColumnTaken> Columns, IReadOnlyList<IntakeFault> Faults)
{
    public ColumnTaken? Find(string name) => Columns.FirstOrDefault(c => c.Role is ColumnRole.Key or ColumnRole.Chemistry && c.Name == name);
}

/// <summary>Finds the heading of a sheet and what each column is.</summary>
/// <remarks>The heading is the first row that holds something; where that row names no key column, one of the next few may (a title stands above many tables).</remarks>
internal sealed class ColumnRecognition(string file, IReadOnlyList<ColumnMap> maps)
{
    private const int RowsLookedAt = 12;

    public RecognisedSheet Recognise(RawSheet sheet)
    {
        int headingAt = FindHeading(sheet);
        RawRow heading = sheet.Rows[headingAt];
        TableKind kind = KindOf(heading);
        List<IntakeFault> faults = [];
        List<ColumnTaken> columns = [];
        for (int i = 0; i < heading.Cells.Length; i++)
            if (heading.Cells[i].Length > 0) columns.Add(Take(sheet, heading, i, kind, faults));
        faults.AddRange(Missing(sheet, heading, kind, columns));
        faults.AddRange(Twice(sheet, heading, columns));
        return new(sheet, kind, headingAt, columns, faults);
    }

    /// <summary>What the user said of headings that no sheet has.</summary>
    public IEnumerable<IntakeFault> Unused(IEnumerable<RecognisedSheet> sheets)
    {
        HashSet<string> headings = new(sheets.SelectMany(s => s.Columns).Select(c => OneLine(c.Heading)), StringComparer.OrdinalIgnoreCase);
        return maps.Where(m => !headings.Contains(OneLine(m.Heading)))
            .Select(m => new IntakeFault(file, null, null, m.Heading, "no column of that heading", $"one of {string.Join(", ", headings.Take(20))}"));
    }

    private int FindHeading(RawSheet sheet)
    {
        for (int i = 0; i < Math.Min(RowsLookedAt, sheet.Rows.Count); i++)
        {
            string?[] names = [.. sheet.Rows[i].Cells.Select(c => Named(c) ?? KeyHeadings.OfCoupons(Heading.Of(c).Name) ?? KeyHeadings.OfChemistry(Heading.Of(c).Name))];
            if (names.Contains("heat") && (names.Contains("coupon") || names.Contains("element") || IsHotHistory(sheet.Rows[i]))) return i;
        }
        return 0;
    }

    private TableKind KindOf(RawRow heading)
    {
        string?[] names = [.. heading.Cells.Select(c => Named(c) ?? KeyHeadings.OfChemistry(Heading.Of(c).Name))];
        return names.Contains("element") && names.Contains("value") ? TableKind.Chemistry : IsHotHistory(heading) ? TableKind.HotHistory : TableKind.Coupons;
    }

    // Temperature and time of a heat without any coupon: no other table has them.
    private bool IsHotHistory(RawRow heading)
    {
        string?[] names = [.. heading.Cells.Select(c => Named(c) is { } said ? KeyHeadings.OfHotHistory(said) : KeyHeadings.OfHotHistory(Heading.Of(c).Name))];
        return names.Contains("heat") && names.Contains("from") && names.Contains("time") && !heading.Cells.Any(c => (Named(c) ?? KeyHeadings.OfCoupons(Heading.Of(c).Name)) == "coupon");
    }

    private ColumnMap? MapOf(string heading) => maps.FirstOrDefault(m => string.Equals(OneLine(m.Heading), OneLine(heading), StringComparison.OrdinalIgnoreCase));

    private string? Named(string heading) => MapOf(heading) is { IsNotRead: false } map ? Heading.Of(map.Meaning).Name : null;

    private ColumnTaken Take(RawSheet sheet, RawRow heading, int index, TableKind kind, List<IntakeFault> faults)
    {
        string text = heading.Cells[index];
        ColumnMap? map = MapOf(text);
        if (map is { IsNotRead: true }) return new(sheet.Name, index, text, ColumnRole.NotRead, "", null, true);
        Heading wanted = Heading.Of(map?.Meaning ?? text);
        ColumnTaken? taken = kind switch { TableKind.Chemistry => TakeChemistry(wanted), TableKind.HotHistory => TakeHotHistory(wanted), _ => TakeKey(wanted) ?? TakeProperty(wanted) };
        if (taken is not null) return taken;
        if (map is not null) faults.Add(Fault($"\"{map.Meaning}\" given for it", "a key column or a property with its unit, e.g. impact energy [J]"));
        return new(sheet.Name, index, text, ColumnRole.NotRead, "", null, map is not null);

        ColumnTaken? TakeChemistry(Heading h) => KeyHeadings.OfChemistry(h.Name) is { } name ? new(sheet.Name, index, text, ColumnRole.Chemistry, name, h.Unit, map is not null) : null;

        ColumnTaken? TakeHotHistory(Heading h)
        {
            if (KeyHeadings.OfHotHistory(h.Name) is not { } name) return null;
            (string? unit, string? expected) = name switch
            {
                "from" or "to" => (TemperatureUnit(h.Unit), "°C, °F or K"),
                "time" => (HotHistoryUnits.Time(h.Unit), "h or min"),
                "powder sieve" => (LengthUnit(h.Unit), "µm or mm"),
                _ => (null, (string?)null),
            };
            if (expected is not null && unit is null) faults.Add(Fault(h.Unit is null ? "no unit in the heading" : $"the unit {h.Unit}", expected));
            return new(sheet.Name, index, text, ColumnRole.HotHistory, name, unit, map is not null);
        }

        ColumnTaken? TakeKey(Heading h)
        {
            if (KeyHeadings.OfCoupons(h.Name) is not { } name) return null;
            (Func<string?, string?> Find, string Expected)? units = name switch
            {
                "test temperature" => (TemperatureUnit, "°C, °F or K"),
                "origin size" or "origin from surface" => (LengthUnit, "µm or mm"),
                _ => null,
            };
            string? unit = units?.Find(h.Unit);
            if (units is { } wantedUnits && unit is null) faults.Add(Fault($"the unit {h.Unit}", wantedUnits.Expected));
            return new(sheet.Name, index, text, ColumnRole.Key, name, unit, map is not null);
        }

        ColumnTaken? TakeProperty(Heading h)
        {
            if (FindProperty(h) is not { } found)
                return h.Unit is null ? null : new(sheet.Name, index, text, ColumnRole.Property, h.WithoutNumber, h.Unit, map is not null);
            (Property property, string? typed) = found;
            string? unit = typed is null ? (property.Units.Count == 1 ? property.StoredUnit.Name : null) : property.FindUnit(typed)?.Name;
            if (typed is not null && unit is null)
                faults.Add(Fault($"the unit {typed}", $"{property.Name} in {string.Join(" or ", property.Units.Select(u => u.Name))}"));
            return new(sheet.Name, index, text, ColumnRole.Property, property.Name, unit, map is not null);
        }

        IntakeFault Fault(string found, string expected) => new(file, sheet.Name, heading.Number, text, found, expected);
    }

    // A heading of a worksheet may run over several lines; who names it by hand types it on one.
    private static string OneLine(string heading) => string.Join(' ', heading.Split((char[])[' ', '\n', '\r', '\t', '\u00A0'], StringSplitOptions.RemoveEmptyEntries));

    // "Hardness HRC", "HRC 1" and "impact energy J" carry the unit without brackets; "absorbed energy KV2 [J]" holds a known name beside other words, and its unit agrees.
    private static (Property Property, string? Unit)? FindProperty(Heading h)
    {
        foreach (string name in new[] { h.Name, h.WithoutNumber })
        {
            if (PropertyTable.Find(name) is { } known) return (known, h.Unit);
            for (int space = name.IndexOf(' ', StringComparison.Ordinal); space > 0; space = name.IndexOf(' ', space + 1))
                if (PropertyTable.Find(name[..space].TrimEnd(',')) is { } property && property.FindUnit(name[(space + 1)..].TrimStart([.. "0123456789# "])) is { } unit) return (property, unit.Name);
        }
        return h.Unit is null ? null : PropertyTable.All.Where(p => p.FindUnit(h.Unit) is not null)
            .SelectMany(p => p.OtherNames.Prepend(p.Name).Where(n => $" {h.Name} ".Contains($" {n} ", StringComparison.OrdinalIgnoreCase)).Select(n => (Property: p, n.Length)))
            .OrderByDescending(p => p.Length).Select(p => ((Property, string?)?)(p.Property, h.Unit)).FirstOrDefault();
    }

    internal static string? TemperatureUnit(string? unit) => unit?.Replace("º", "°", StringComparison.Ordinal).ToUpperInvariant() switch
    {
        null or "°C" or "C" or "DEG C" or "CELSIUS" => "°C",
        "°F" or "F" or "DEG F" or "FAHRENHEIT" => "°F",
        "K" or "KELVIN" => "K",
        _ => null,
    };

    private static string? LengthUnit(string? unit) => unit?.Trim() switch
    {
        null or "µm" or "μm" or "um" or "micron" or "microns" => "µm",
        "mm" => "mm",
        _ => null,
    };

    private IEnumerable<IntakeFault> Missing(RawSheet sheet, RawRow heading, TableKind kind, List<ColumnTaken> columns)
    {
        string[] needed = kind switch { TableKind.Chemistry => ["heat", "element", "value"], TableKind.HotHistory => ["heat", "from", "time"], _ => ["heat", "coupon"] };
        foreach (string name in needed.Where(n => !columns.Exists(c => c.Role != ColumnRole.NotRead && c.Name == n)))
            yield return new(file, sheet.Name, heading.Number, null, $"no column {name} among {string.Join(", ", heading.Cells.Where(c => c.Length > 0).Take(20))}", $"a column headed {name}, or one named as {name} by hand");
        if (kind == TableKind.Coupons && !columns.Exists(c => c.Role == ColumnRole.Property))
            yield return new(file, sheet.Name, heading.Number, null, "no column of a property", "a column headed with a property and its unit, e.g. hardness [HRC] or impact energy [J]");
    }

    private IEnumerable<IntakeFault> Twice(RawSheet sheet, RawRow heading, List<ColumnTaken> columns) =>
        columns.Where(c => c.Role is ColumnRole.Key or ColumnRole.Chemistry or ColumnRole.HotHistory).GroupBy(c => c.Name, StringComparer.Ordinal).Where(g => g.Count() > 1)
            .Select(g => new IntakeFault(file, sheet.Name, heading.Number, g.Last().Heading, $"a second column taken for {g.Key}", "one such column; name the other as not read"));
}
