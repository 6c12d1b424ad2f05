using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>Makes chemistry results of a recognised sheet: one row a result.</summary>
internal sealed class ChemistrySheetReader(string file, RecognisedSheet recognised, DecimalSign sign, FaultList faults, List<IntakeNote> notes)
{
    private readonly Dictionary<string, ColumnTaken> _columns =
        recognised.Columns.Where(c => c.Role == ColumnRole.Chemistry).DistinctBy(c => c.Name).ToDictionary(c => c.Name, StringComparer.Ordinal);

    /// <summary>Reads the rows below the heading; returns how many are data.</summary>
    public int Read(Dictionary<object, int> seen, List<ChemistryResult> good)
    {
        IReadOnlyList<RawRow> rows = recognised.Sheet.Rows;
        int end = rows.Count;
        while (end > recognised.HeadingAt + 1 && Cell(rows[end - 1], "element").Length == 0 && Cell(rows[end - 1], "value").Length == 0) end--;
        for (int i = 0; i < recognised.HeadingAt; i++) notes.Add(new(recognised.Sheet.Name, rows[i].Number, "taken as a title"));
        for (int i = recognised.HeadingAt + 1; i < end; i++)
            if (ReadRow(rows[i], seen) is { } result) good.Add(result);
        for (int i = end; i < rows.Count; i++) notes.Add(new(recognised.Sheet.Name, rows[i].Number, $"taken as a note below the table: {string.Join(' ', rows[i].Cells.Where(c => c.Length > 0))}"));
        return end - recognised.HeadingAt - 1;
    }

    private ChemistryResult? ReadRow(RawRow raw, Dictionary<object, int> seen)
    {
        RowFaults wrong = new(faults, file, recognised.Sheet.Name, raw.Number);
        string heat = Cell(raw, "heat");
        if (heat.Length == 0) wrong.Add(Heading("heat"), "an empty cell", "the name of the heat");
        string element = ChemicalElements.Find(Cell(raw, "element")) ?? "";
        if (element.Length == 0) wrong.Add(Heading("element"), Cell(raw, "element") is { Length: > 0 } e ? e : "an empty cell", "the symbol of an element, e.g. Cr");
        CensoredValue? typed = Value(raw, wrong);
        ChemistryResult result = new(
            heat, element, typed ?? CensoredValue.Of(0, "wt%"), Text(raw, "method"), Text(raw, "laboratory"), Positive(raw, "uncertainty", wrong), Positive(raw, "coverage factor", wrong),
            KeyCells.Day(Cell(raw, "date"), Heading("date"), wrong));
        if (!wrong.Any && !seen.TryAdd((heat, element, result.Method, result.Laboratory, result.Date), raw.Number))
            wrong.Add(null, $"{element} of heat {heat} again by the same method, laboratory and date", "each result once; tell repeats apart by date or laboratory");
        return wrong.Any ? null : result;
    }

    private CensoredValue? Value(RawRow raw, RowFaults wrong)
    {
        string cell = Cell(raw, "value");
        if (!TypedFigure.TryRead(cell, sign, out Figure figure, out string expected))
        {
            wrong.Add(Heading("value"), cell.Length == 0 ? "an empty cell" : cell, expected);
            return null;
        }
        string typed = figure.Unit.Length > 0 ? figure.Unit : Cell(raw, "unit") is { Length: > 0 } u ? u : _columns["value"].Unit ?? "";
        string? unit = typed.ToUpperInvariant().Replace(" ", "", StringComparison.Ordinal) switch
        {
            "WT%" or "WT.%" or "WT-%" or "MASS%" or "MASS-%" or "M%" or "%" or "%(M/M)" or "PERCENT" => "wt%",
            "PPM" or "MG/KG" or "µG/G" or "ΜG/G" or "UG/G" => "ppm",
            _ => null,
        };
        if (unit is null) wrong.Add(Heading("unit") ?? Heading("value"), typed.Length == 0 ? $"{cell} without a unit" : $"the unit {typed}", "wt% or ppm (by mass)");
        double percent = unit == "ppm" ? figure.Value / 1e4 : figure.Value;
        if (unit is not null && percent is < 0 or > 100) wrong.Add(Heading("value"), $"{cell} {unit}", "0 to 100 % by mass");
        return unit is null ? null : new(figure.Value, unit, figure.Censoring, figure.Text);
    }

    private double? Positive(RawRow raw, string column, RowFaults wrong)
    {
        string cell = Cell(raw, column);
        if (cell.Length == 0 || KeyCells.IsUnknown(cell)) return null;
        if (TypedFigure.TryRead(cell.TrimStart('±', ' '), sign, out Figure figure, out _) && figure is { Value: > 0, Censoring: Censoring.None }) return figure.Value;
        wrong.Add(Heading(column), cell, "a figure above 0");
        return null;
    }

    private string Cell(RawRow row, string column) => _columns.TryGetValue(column, out ColumnTaken? taken) ? KeyCells.Plain(row[taken.Index]) : "";

    private string? Text(RawRow row, string column) => Cell(row, column) is { Length: > 0 } text && !KeyCells.IsUnknown(text) ? text : null;

    private string? Heading(string column) => _columns.GetValueOrDefault(column)?.Heading;
}
