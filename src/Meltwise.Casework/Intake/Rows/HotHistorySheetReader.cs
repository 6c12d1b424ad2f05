using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>The hot history of one heat as a table tells it.</summary>
/// <param name="History">The history, its stretches in order.</param>
/// <param name="Sheet">Sheet of a workbook, or null.</param>
/// <param name="FirstRow">Its first row, as the person counts it.</param>
/// <param name="Rows">How many rows tell it.</param>
public sealed record HotHistoryOfTable(HotHistory History, string? Sheet, int FirstRow, int Rows);

/// <summary>Makes hot histories of a recognised sheet: one row a hot stretch of a heat; what holds of the whole heat (powder, atmosphere, cooling, who told it) stands in any of its rows.</summary>
/// <remarks>A history is one record. Where one of its rows is wrong, all rows of that heat are left out with it.</remarks>
internal sealed class HotHistorySheetReader(string file, RecognisedSheet recognised, DecimalSign sign, FaultList faults, List<IntakeNote> notes)
{
    private static readonly string[] s_ofHeat = ["powder sieve", "atmosphere", "cooling", "said by"];

    private static readonly string[] s_cooling = [.. HotHistory.Coolings];

    private readonly Dictionary<string, ColumnTaken> _columns =
        recognised.Columns.Where(c => c.Role == ColumnRole.HotHistory).DistinctBy(c => c.Name).ToDictionary(c => c.Name, StringComparer.Ordinal);

    private readonly Dictionary<string, HeatRows> _heats = new(StringComparer.Ordinal);

    /// <summary>Reads the rows below the heading; returns how many are data.</summary>
    /// <param name="seen">Heats that a sheet before told, with their row; a heat is told in one sheet.</param>
    /// <param name="good">Takes the histories that have no fault.</param>
    public int Read(Dictionary<string, int> seen, List<HotHistoryOfTable> good)
    {
        IReadOnlyList<RawRow> rows = recognised.Sheet.Rows;
        int end = rows.Count;
        while (end > recognised.HeadingAt + 1 && _columns.Keys.Where(c => c != "heat").All(c => Cell(rows[end - 1], c).Length == 0)) end--;
        for (int i = 0; i < recognised.HeadingAt; i++) notes.Add(new(recognised.Sheet.Name, rows[i].Number, "taken as a title"));
        for (int i = recognised.HeadingAt + 1; i < end; i++) ReadRow(rows[i], seen);
        for (int i = end; i < rows.Count; i++) notes.Add(new(recognised.Sheet.Name, rows[i].Number, $"taken as a note below the table: {string.Join(' ', rows[i].Cells.Where(c => c.Length > 0))}"));
        foreach ((string heat, HeatRows told) in _heats)
        {
            seen.TryAdd(heat, told.FirstRow);
            if (!told.IsWrong) good.Add(new(told.History(heat), recognised.Sheet.Name, told.FirstRow, told.Rows));
            else if (told.Rows > 1) notes.Add(new(recognised.Sheet.Name, told.FirstRow, $"the hot history of heat {heat} has a fault: all its rows are left out with it"));
        }
        return end - recognised.HeadingAt - 1;
    }

    private void ReadRow(RawRow raw, Dictionary<string, int> seen)
    {
        RowFaults wrong = new(faults, file, recognised.Sheet.Name, raw.Number);
        string heat = Cell(raw, "heat");
        if (heat.Length == 0)
        {
            wrong.Add(Heading("heat"), "an empty cell", "the name of the heat");
            heat = "";
        }
        else if (seen.TryGetValue(heat, out int before))
        {
            wrong.Add(Heading("heat"), $"heat {heat} again", string.Create(CultureInfo.InvariantCulture, $"all stretches of a heat in one sheet; it was told from row {before} on"));
        }
        if (!_heats.TryGetValue(heat, out HeatRows? told)) _heats[heat] = told = new(raw.Number);
        told.Rows++;
        foreach (string column in s_ofHeat) TakeOfHeat(told, raw, column, wrong);
        int? order = KeyCells.Order(Cell(raw, "order"), Heading("order"), wrong);
        if (Step(raw, wrong) is { } step) told.Steps.Add((order ?? told.Rows, step));
        if (wrong.Any) told.IsWrong = true;
    }

    /// <summary>The stretch of a row; null for a row that only tells what holds of the heat, or when something is wrong.</summary>
    private HotStep? Step(RawRow raw, RowFaults wrong)
    {
        string[] filled = [.. new[] { "from", "to", "time" }.Where(c => Cell(raw, c) is { Length: > 0 } cell && !KeyCells.IsUnknown(cell))];
        bool named = Cell(raw, "step") is { Length: > 0 } word && !KeyCells.IsUnknown(word);
        if (filled.Length == 0 && !named)
        {
            if (s_ofHeat.All(c => Cell(raw, c).Length == 0)) wrong.Add(null, "a row that tells nothing of the heat", "a stretch with its temperature and time");
            return null;
        }
        foreach (string needed in new[] { "from", "time" }.Except(filled)) wrong.Add(Heading(needed), "an empty cell", needed == "from" ? "the temperature at the start of the stretch" : "how long the stretch was");
        double? from = Celsius(raw, "from", wrong), to = Celsius(raw, "to", wrong) ?? from, hours = Hours(raw, wrong);
        return from is null || to is null || hours is null || wrong.Any ? null : new(named ? Cell(raw, "step") : "soak", from.Value, to.Value, hours.Value);
    }

    private double? Celsius(RawRow raw, string column, RowFaults wrong)
    {
        string cell = Cell(raw, column);
        if (KeyCells.TemperatureK(cell, _columns.GetValueOrDefault(column), sign, wrong, below: double.PositiveInfinity) is not { } kelvin) return null;
        double celsius = Math.Round(kelvin - 273.15, 6);
        if (celsius is >= HotHistoryText.LowestC and <= HotHistoryText.HighestC) return celsius;
        wrong.Add(Heading(column), string.Create(CultureInfo.InvariantCulture, $"{cell}, that is {celsius:0.#} °C"), string.Create(CultureInfo.InvariantCulture, $"{HotHistoryText.LowestC:0} to {HotHistoryText.HighestC:0} °C; perhaps the unit in the heading is another"));
        return null;
    }

    private double? Hours(RawRow raw, RowFaults wrong)
    {
        string cell = Cell(raw, "time");
        if (cell.Length == 0 || KeyCells.IsUnknown(cell)) return null;
        if (!TypedFigure.TryRead(cell, sign, out Figure figure, out string expected) || figure.Censoring != Censoring.None)
        {
            wrong.Add(Heading("time"), cell, $"a time in {_columns["time"].Unit}: {expected}");
            return null;
        }
        double? factor = HotHistoryUnits.HoursOf(figure.Unit.Length > 0 ? figure.Unit : _columns["time"].Unit);
        double hours = Math.Round(figure.Value * (factor ?? double.NaN), 6);
        if (hours is > 0 and <= HotHistoryText.LongestH) return hours;
        wrong.Add(Heading("time"), cell, string.Create(CultureInfo.InvariantCulture, $"a time in h or min, more than 0 and up to {HotHistoryText.LongestH:0} h"));
        return null;
    }

    private void TakeOfHeat(HeatRows told, RawRow raw, string column, RowFaults wrong)
    {
        string cell = Cell(raw, column);
        if (cell.Length == 0 || KeyCells.IsUnknown(cell)) return;
        if (column == "powder sieve")
        {
            if (OriginCells.Micrometres(cell, _columns[column], sign, wrong) is not { } um) return;
            if (um is not (>= HotHistoryText.FinestPowderUm and <= HotHistoryText.CoarsestPowderUm))
            {
                wrong.Add(Heading(column), cell, string.Create(CultureInfo.InvariantCulture, $"{HotHistoryText.FinestPowderUm:0} to {HotHistoryText.CoarsestPowderUm:0} µm, or nothing when it is not powder"));
                return;
            }
            cell = um.ToString("R", CultureInfo.InvariantCulture);
        }
        if (column == "cooling")
        {
            cell = cell.ToLowerInvariant();
            if (!s_cooling.Contains(cell))
            {
                wrong.Add(Heading(column), cell, $"{string.Join(", ", s_cooling[..^1])} or {s_cooling[^1]}");
                return;
            }
        }
        if (told.OfHeat.TryAdd(column, cell) || told.OfHeat[column] == cell) return;
        wrong.Add(Heading(column), cell, string.Create(CultureInfo.InvariantCulture, $"{told.OfHeat[column]}, as in an earlier row of the heat (from row {told.FirstRow}); it holds of the heat as a whole"));
    }

    private string Cell(RawRow row, string column) => _columns.TryGetValue(column, out ColumnTaken? taken) ? KeyCells.Plain(row[taken.Index]) : "";

    private string? Heading(string column) => _columns.GetValueOrDefault(column)?.Heading;

    /// <summary>What the rows of one heat tell.</summary>
    private sealed class HeatRows(int firstRow)
    {
        public int FirstRow { get; } = firstRow;

        public int Rows { get; set; }

        public bool IsWrong { get; set; }

        public List<(int Order, HotStep Step)> Steps { get; } = [];

        public Dictionary<string, string> OfHeat { get; } = new(StringComparer.Ordinal);

        public HotHistory History(string heat) => new(
            heat, [.. Steps.OrderBy(s => s.Order).Select(s => s.Step)], OfHeat.TryGetValue("powder sieve", out string? um) ? double.Parse(um, CultureInfo.InvariantCulture) : null,
            OfHeat.GetValueOrDefault("atmosphere"), OfHeat.GetValueOrDefault("cooling"), OfHeat.GetValueOrDefault("said by"));
    }
}
