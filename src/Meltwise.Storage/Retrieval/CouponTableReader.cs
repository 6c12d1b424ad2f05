using System.Data;
using System.Data.Common;
using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Storage.Records;

namespace Meltwise.Storage.Retrieval;

/// <summary>Coupons joined with heats, treatments and current readings, flat.</summary>
internal sealed class CouponTableReader(Engine engine, CouponSelection selection, Enquiry? enquiry)
{
    // Beyond so many heats the filter is applied here rather than in the statement.
    private const int MostHeatsInStatement = 400;

    private readonly IReadOnlyCollection<string>? _heats =
        selection.Heats ?? (selection.Coupons is null ? null : [.. selection.Coupons.Select(c => c.Heat).Distinct(StringComparer.Ordinal)]);
    // Names of properties, units and instruments stand on every reading; one string serves them all.
    private readonly Dictionary<string, string> _shared = new(StringComparer.Ordinal);
    private readonly HashSet<CouponKey>? _wanted = selection.Coupons is null ? null : [.. selection.Coupons];
    private readonly Dictionary<CouponKey, Exclusion> _excluded =
        (enquiry?.Exclusions ?? []).GroupBy(e => e.Coupon).ToDictionary(g => g.Key, g => g.MinBy(e => e.AtUtc)!);

    public CouponTable Read()
    {
        List<CouponRow> rows = ReadCoupons();
        Dictionary<CouponKey, CouponReadings> readings = ReadReadings(rows.Count);
        Dictionary<CouponKey, FractureOrigin> origins = ReadOrigins();
        List<CouponRow> full = new(rows.Count);
        foreach (CouponRow row in rows)
        {
            CouponKey key = new(row.Heat, row.Coupon);
            readings.TryGetValue(key, out CouponReadings? own);
            if (selection.Property is { } wanted && own?.Has(wanted) != true) continue;
            CouponRow complete = own is null ? row with { State = CouponState.NotDone } : own.Complete(row, selection.Property);
            if (origins.TryGetValue(key, out FractureOrigin? origin)) complete = complete with { Fracture = origin };
            full.Add(_excluded.TryGetValue(key, out Exclusion? exclusion) ? Exclude(complete, exclusion) : complete);
        }
        return new(full, PresentColumns(full), "the bench");
    }

    private CouponRow Exclude(CouponRow row, Exclusion exclusion) => row with
    {
        State = CouponState.Excluded,
        Cause = string.IsNullOrEmpty(exclusion.Note) ? exclusion.Cause : $"{exclusion.Cause}: {exclusion.Note}",
        ExcludedBeforeKeyOpened = enquiry!.Key?.OpenedAtUtc is not { } opened || exclusion.AtUtc < opened,
    };

    private List<CouponRow> ReadCoupons()
    {
        using DbCommand command = Command(
            "SELECT v.heat, v.coupon, h.source, h.grade, h.route, v.orientation, v.geometry, t.set_values, t.temper_family, v.furnace_load, v.test_order, v.code, v.position, v.hardness_moment, v.hardness_order "
            + "FROM coupon_version v JOIN heat_version h ON h.name = v.heat AND h.replaced_by IS NULL "
            + "LEFT JOIN treatment_version t ON t.name = v.treatment AND t.replaced_by IS NULL WHERE v.replaced_by IS NULL");
        using DbDataReader row = command.ExecuteReader();
        List<CouponRow> rows = [];
        while (row.Read())
        {
            if (!Wanted(new(row.GetString(0), row.GetString(1)))) continue;
            rows.Add(new()
            {
                Heat = Shared(row.GetString(0)),
                Coupon = row.GetString(1),
                Source = SharedOrNull(row, 2),
                Grade = SharedOrNull(row, 3),
                Route = SharedOrNull(row, 4),
                Orientation = SharedOrNull(row, 5),
                Geometry = SharedOrNull(row, 6),
                Treatment = SharedOrNull(row, 7),
                TemperFamily = SharedOrNull(row, 8),
                Load = SharedOrNull(row, 9),
                Order = row.IntegerOrNull(10),
                Code = row.TextOrNull(11),
                Position = SharedOrNull(row, 12),
                HardnessMoment = StoredForms.ToHardnessMoment(row.TextOrNull(13)),
                HardnessOrder = row.IntegerOrNull(14),
            });
        }
        return rows;
    }

    private Dictionary<CouponKey, CouponReadings> ReadReadings(int coupons)
    {
        using DbCommand command = Command(
            "SELECT v.heat, v.coupon, v.property, v.number, v.typed_value, v.unit, v.censoring, v.typed, v.instrument, v.session, v.test_temperature_k, v.read_on, v.read_at_utc, v.state, v.cause "
            + "FROM reading_version v WHERE v.replaced_by IS NULL");
        using DbDataReader row = command.ExecuteReader();
        Dictionary<CouponKey, CouponReadings> readings = new(coupons);
        while (row.Read())
        {
            CouponKey key = new(row.GetString(0), row.GetString(1));
            if (!Wanted(key)) continue;
            key = key with { Heat = Shared(key.Heat) };
            if (!readings.TryGetValue(key, out CouponReadings? own)) readings[key] = own = new();
            own.Add(new(
                Shared(row.GetString(2)), row.GetInt32(3), new(row.GetDouble(4), Shared(row.GetString(5)), StoredForms.ToCensoring(row.GetString(6)), row.GetString(7)),
                SharedOrNull(row, 8), SharedOrNull(row, 9), row.RealOrNull(10), Day(row), StoredForms.ToState(row.GetString(13)), row.TextOrNull(14)));
        }
        return readings;
    }

    private Dictionary<CouponKey, FractureOrigin> ReadOrigins()
    {
        RecordTable<FractureOrigin> table = CouponTables.FractureOrigins;
        using DbCommand command = Command($"SELECT {table.ColumnList("v")} FROM {table.Table} v WHERE v.replaced_by IS NULL");
        using DbDataReader row = command.ExecuteReader();
        Dictionary<CouponKey, FractureOrigin> origins = [];
        while (row.Read())
        {
            FractureOrigin origin = table.Read(table.Cells(row, 0));
            origins[origin.Coupon] = origin;
        }
        return origins;
    }

    private string? SharedOrNull(DbDataReader row, int at) => row.IsDBNull(at) ? null : Shared(row.GetString(at));

    private string Shared(string text)
    {
        if (_shared.TryGetValue(text, out string? known)) return known;
        _shared[text] = text;
        return text;
    }

    private static DateOnly? Day(DbDataReader row) => row.IsDBNull(11)
        ? (row.IsDBNull(12) ? null : DateOnly.FromDateTime(StoredForms.ToInstant(row.GetString(12))))
        : StoredForms.ToDay(row.GetString(11));

    private bool Wanted(CouponKey key) => (_wanted is null || _wanted.Contains(key)) && (_heats is null || _heats.Contains(key.Heat));

    private DbCommand Command(string sql)
    {
        bool filtered = _heats is { Count: <= MostHeatsInStatement and > 0 };
        string where = filtered ? $" AND v.heat IN ({string.Join(", ", Enumerable.Range(0, _heats!.Count).Select(i => string.Create(CultureInfo.InvariantCulture, $"@h{i}")))})" : "";
        DbCommand command = engine.Connection.Command($"{sql}{where} ORDER BY v.entry");
        if (!filtered) return command;
        int at = 0;
        foreach (string heat in _heats!) command.Add(string.Create(CultureInfo.InvariantCulture, $"h{at++}"), DbType.String, heat);
        return command;
    }

    // On a bench every column exists; it counts as present when at least one of the rows knows it.
    private static HashSet<string> PresentColumns(List<CouponRow> rows)
    {
        (string Name, Func<CouponRow, object?> Value)[] columns =
        [
            ("source", r => r.Source), ("grade", r => r.Grade), ("route", r => r.Route), ("orientation", r => r.Orientation), ("geometry", r => r.Geometry),
            ("test temperature", r => r.TestTemperatureK), ("treatment", r => r.Treatment), ("temper family", r => r.TemperFamily), ("load", r => r.Load),
            ("session", r => r.Session), ("order", r => r.Order), ("instrument", r => r.Instrument), ("date", r => r.Date), ("code", r => r.Code),
            ("position", r => r.Position), ("hardness moment", r => r.HardnessMoment), ("hardness order", r => r.HardnessOrder), ("fracture origin", r => r.Fracture),
            ("origin size", r => r.Fracture?.SizeUm), ("origin from surface", r => r.Fracture?.FromSurfaceUm), ("origin seen by", r => r.Fracture?.SeenBy),
            ("origin notes", r => r.Fracture?.Notes), ("cause", r => r.Cause),
        ];
        return [.. columns.Where(c => rows.Exists(r => c.Value(r) is not null)).Select(c => c.Name), "state"];
    }
}
