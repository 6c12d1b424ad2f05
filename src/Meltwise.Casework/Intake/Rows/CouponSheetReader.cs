using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>Makes coupon rows of a recognised sheet. Each data row ends as a good row, a fault, or a note; none vanishes.</summary>
internal sealed class CouponSheetReader(string file, RecognisedSheet recognised, DecimalSign sign, FaultList faults, List<IntakeNote> notes)
{
    private readonly ColumnTaken[] _properties = [.. recognised.Columns.Where(c => c.Role == ColumnRole.Property)];
    private readonly Dictionary<string, ColumnTaken> _keys =
        recognised.Columns.Where(c => c.Role == ColumnRole.Key).DistinctBy(c => c.Name).ToDictionary(c => c.Name, StringComparer.Ordinal);
    private readonly Dictionary<string, RowOfHeat> _heats = new(StringComparer.Ordinal);
    private readonly bool _hasHardness = recognised.Columns.Any(c => c.Name == PropertyTable.Hardness.Name);

    private sealed record RowOfHeat(int Row, string? Source, string? Grade, string? Route);

    /// <summary>Reads the rows below the heading.</summary>
    /// <param name="seen">Coupons of the file with the row they stand in, over all its sheets.</param>
    /// <param name="good">Takes the good rows.</param>
    /// <returns>Rows that are data: good and faulty together.</returns>
    public int Read(Dictionary<CouponKey, int> seen, List<CouponRow> good)
    {
        IReadOnlyList<RawRow> rows = recognised.Sheet.Rows;
        int end = rows.Count;
        while (end > recognised.HeadingAt + 1 && IsNote(rows[end - 1])) end--;
        for (int i = 0; i < recognised.HeadingAt; i++) Note(rows[i].Number, $"taken as a title: {Shown(rows[i])}");
        int data = 0;
        for (int i = recognised.HeadingAt + 1; i < end; i++)
        {
            if (rows[i].Cells.AsSpan().SequenceEqual(rows[recognised.HeadingAt].Cells))
            {
                Note(rows[i].Number, "the heading again");
                continue;
            }
            data++;
            if (ReadRow(rows[i], seen) is { } row) good.Add(row);
        }
        for (int i = end; i < rows.Count; i++) Note(rows[i].Number, $"taken as a note below the table: {Shown(rows[i])}");
        return data;
    }

    private bool IsNote(RawRow row) =>
        (Cell(row, "heat").Length == 0 || Cell(row, "coupon").Length == 0) && Array.TrueForAll(_properties, p => row[p.Index].Length == 0);

    private CouponRow? ReadRow(RawRow raw, Dictionary<CouponKey, int> seen)
    {
        RowFaults wrong = new(faults, file, recognised.Sheet.Name, raw.Number);
        (string heat, string coupon) = (Name(raw, "heat", wrong), Name(raw, "coupon", wrong));
        if (heat.Length > 0 && coupon.Length > 0 && !seen.TryAdd(new(heat, coupon), raw.Number))
            wrong.Add(_keys["coupon"].Heading, $"coupon {coupon} of heat {heat} again", string.Create(CultureInfo.InvariantCulture, $"each coupon once; it stands in row {seen[new(heat, coupon)]} already"));
        CouponState state = KeyCells.State(Cell(raw, "state"), Column("state"), wrong);
        CouponRow row = new()
        {
            Heat = heat,
            Coupon = coupon,
            Source = Text(raw, "source"),
            Grade = Text(raw, "grade"),
            Route = Text(raw, "route"),
            Orientation = Text(raw, "orientation"),
            Geometry = Text(raw, "geometry"),
            TestTemperatureK = KeyCells.TemperatureK(Cell(raw, "test temperature"), Find("test temperature"), sign, wrong),
            Treatment = KeyCells.Treatment(Cell(raw, "treatment")),
            TemperFamily = KeyCells.TemperFamily(Cell(raw, "temper family"), Column("temper family"), wrong),
            Load = Text(raw, "load"),
            Session = Text(raw, "session"),
            Order = KeyCells.Order(Cell(raw, "order"), Column("order"), wrong),
            Instrument = Text(raw, "instrument"),
            Date = KeyCells.Day(Cell(raw, "date"), Column("date"), wrong),
            Code = Text(raw, "code"),
            Position = Text(raw, "position"),
            HardnessMoment = OriginCells.Moment(Cell(raw, "hardness moment"), Column("hardness moment"), wrong),
            HardnessOrder = KeyCells.Order(Cell(raw, "hardness order"), Column("hardness order"), wrong),
            Fracture = Fracture(raw, new(heat, coupon), wrong),
            State = state,
            Cause = Text(raw, "cause"),
            Origin = string.Create(CultureInfo.InvariantCulture, $"{(recognised.Sheet.Name is { } s ? $"{file}, sheet {s}," : file)} row {raw.Number}"),
        };
        if (state == CouponState.Excluded && row.Cause is null) wrong.Add(Column("cause") ?? Column("state"), "excluded without a cause", "the physical cause in a column cause");
        DemandOneHeat(row, raw.Number, wrong);
        row = WithReadings(row, raw, wrong);
        return wrong.Any ? null : row;
    }

    private FractureOrigin? Fracture(RawRow raw, CouponKey coupon, RowFaults wrong)
    {
        OriginKind? kind = OriginCells.Kind(Cell(raw, "fracture origin"), Column("fracture origin"), wrong);
        double? size = OriginCells.Micrometres(Cell(raw, "origin size"), Find("origin size"), sign, wrong);
        double? depth = OriginCells.Micrometres(Cell(raw, "origin from surface"), Find("origin from surface"), sign, wrong);
        (string? seenBy, string? notes) = (Text(raw, "origin seen by"), Text(raw, "origin notes"));
        if (kind is { } known) return new(coupon, known, size, depth, seenBy, notes);
        if ((size is not null || depth is not null) && !wrong.Any) wrong.Add(Column("fracture origin"), "a size or depth of an origin without its kind", string.Join(", ", OriginKinds.All.Select(k => k.Name)));
        return null;
    }

    private CouponRow WithReadings(CouponRow row, RawRow raw, RowFaults wrong)
    {
        List<CensoredValue> hardness = [];
        Dictionary<string, IReadOnlyList<CensoredValue>> others = new(1, StringComparer.Ordinal);
        foreach (ColumnTaken column in _properties)
        {
            if (raw[column.Index].Length == 0) continue;
            if (recognised.Sheet.Merged.Contains((raw.Number, column.Index)))
            {
                wrong.Add(column.Heading, $"merged cells over {raw[column.Index]}", "one value in each row");
                continue;
            }
            List<CensoredValue> values = PropertyCells.Read(raw[column.Index], column, sign, row.State, wrong);
            if (column.Name == PropertyTable.Hardness.Name) hardness.AddRange(values);
            else if (values.Count > 0) others[column.Name] = others.TryGetValue(column.Name, out IReadOnlyList<CensoredValue>? before) ? [.. before, .. values] : values;
        }
        if (hardness.Count == 0 && others.Count == 0 && row.State != CouponState.NotDone && !wrong.Any)
            wrong.Add(null, "no reading", "at least one reading, or the state not done");
        else if (_hasHardness && hardness.Count == 0 && others.Count > 0 && !wrong.Any)
            Note(raw.Number, $"coupon {row.Heat}/{row.Coupon} has no hardness; it takes no part in a comparison at equal hardness");
        return row with { Hardness = hardness, Readings = others };
    }

    // A heat has one source, grade and route.
    private void DemandOneHeat(CouponRow row, int number, RowFaults wrong)
    {
        if (row.Heat.Length == 0) return;
        if (!_heats.TryGetValue(row.Heat, out RowOfHeat? first))
        {
            _heats[row.Heat] = new(number, row.Source, row.Grade, row.Route);
            return;
        }
        Same("source", first.Source, row.Source);
        Same("grade", first.Grade, row.Grade);
        Same("route", first.Route, row.Route);
        if ((first.Source, first.Grade, first.Route) != (row.Source, row.Grade, row.Route))
            _heats[row.Heat] = first with { Source = first.Source ?? row.Source, Grade = first.Grade ?? row.Grade, Route = first.Route ?? row.Route };

        void Same(string name, string? before, string? now)
        {
            if (before is not null && now is not null && before != now)
                wrong.Add(Column(name), $"{now} for heat {row.Heat}", string.Create(CultureInfo.InvariantCulture, $"{before}, as in row {first.Row}; a heat has one {name}"));
        }
    }

    private string Name(RawRow row, string column, RowFaults wrong)
    {
        string name = Cell(row, column);
        if (name.Length == 0) wrong.Add(Column(column) ?? column, "an empty cell", $"the name of the {column}");
        return name;
    }

    private string Cell(RawRow row, string column) => _keys.TryGetValue(column, out ColumnTaken? taken) ? KeyCells.Plain(row[taken.Index]) : "";

    private string? Text(RawRow row, string column) => Cell(row, column) is { Length: > 0 } text && !KeyCells.IsUnknown(text) ? text : null;

    private ColumnTaken? Find(string column) => _keys.GetValueOrDefault(column);

    private string? Column(string column) => Find(column)?.Heading;

    private void Note(int row, string text) => notes.Add(new(recognised.Sheet.Name, row, text));

    private static string Shown(RawRow row)
    {
        string text = string.Join(' ', row.Cells.Where(c => c.Length > 0));
        return text.Length <= 120 ? text : text[..117] + "...";
    }
}
