using System.Globalization;
using System.Security.Cryptography;
using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>Readings of a furnace recorder as a file tells them.</summary>
/// <param name="Channel">Heading of the column that was read.</param>
/// <param name="StartedAt">When it began, by the clock of the recorder; null for elapsed time.</param>
/// <param name="Minutes">Minutes from the first reading.</param>
/// <param name="TemperatureC">Temperatures, °C.</param>
/// <param name="Notes">What should be known and is no fault.</param>
public sealed record FurnaceReadings(string Channel, DateTime? StartedAt, IReadOnlyList<double> Minutes, IReadOnlyList<double> TemperatureC, IReadOnlyList<string> Notes);

/// <summary>Reads the file of a furnace recorder (CSV, TSV, XLSX): a column of time and one or more of temperature with their unit. Never throws for what is in it.</summary>
public sealed class FurnaceTraceFile
{
    /// <summary>Largest file.</summary>
    public const int MostBytes = 20 << 20;

    private const int RowsLookedAt = 40, MostReadings = 200_000, MostFaults = 100;
    private static readonly TimeSpan s_halfDay = TimeSpan.FromHours(12);

    private readonly string _file;
    private readonly string? _sheetName;
    private readonly FaultList _faults;
    private readonly List<string> _notes = [];

    private FurnaceTraceFile(string file, string? sheetName)
    {
        (_file, _sheetName) = (file, sheetName);
        _faults = new(file, MostFaults);
    }

    /// <summary>Reads it.</summary>
    /// <param name="fileName">Name of the file.</param>
    /// <param name="content">Its bytes.</param>
    /// <param name="channel">Heading of the temperature column; null takes the only one, or the one of the load.</param>
    /// <returns>The readings, or every fault with its place.</returns>
    public static (FurnaceReadings? Readings, IReadOnlyList<IntakeFault> Faults) Read(string fileName, byte[] content, string? channel = null)
    {
        RawFile raw = TableReader.Read(fileName, content, TableLimits.Usual with { FileBytes = MostBytes });
        if (raw.Faults.Count > 0) return (null, raw.Faults);
        foreach (RawSheet sheet in raw.Sheets)
            if (Trace(sheet) is { } columns) return new FurnaceTraceFile(fileName, sheet.Name).ReadSheet(sheet, columns, channel);
        string headings = string.Join(", ", raw.Sheets.SelectMany(s => s.Rows.Take(1)).SelectMany(r => r.Cells).Where(c => c.Length > 0).Take(12));
        return (null, [new(fileName, null, null, null, $"no row that heads a time and a temperature; the first row reads {headings}", "a column headed time, with its unit or with clock times below it, and one headed with °C, °F or K, e.g. load [°C]")]);
    }

    /// <summary>SHA-256 of a file, as a trace keeps it.</summary>
    public static string DigestOf(byte[] content) => Convert.ToHexStringLower(SHA256.HashData(content));

    private static TraceColumns? Trace(RawSheet sheet)
    {
        for (int i = 0; i < Math.Min(RowsLookedAt, sheet.Rows.Count); i++)
            if (TraceColumns.Of(i, sheet.Rows[i]) is { } found) return found;
        return null;
    }

    private (FurnaceReadings? Readings, IReadOnlyList<IntakeFault> Faults) ReadSheet(RawSheet sheet, TraceColumns columns, string? channel)
    {
        if (columns.Choose(channel) is not { } chosen)
        {
            string all = string.Join(", ", columns.Temperatures.Select(t => t.Heading));
            _faults.Add(new(_file, _sheetName, sheet.Rows[columns.HeadingAt].Number, null, channel is null ? $"{columns.Temperatures.Count} columns of temperature: {all}" : $"no column of temperature headed {channel} among {all}", "the heading of the one to read"));
            return (null, _faults.All);
        }
        DecimalSign sign = TypedFigure.SignOf(sheet.Rows.Skip(columns.HeadingAt + 1).SelectMany(r => new[] { r[chosen.Index], columns.TimeUnit is null ? "" : r[columns.TimeAt] })) ?? DecimalSign.Point;
        List<(double Minutes, double Celsius)> readings = [];
        DateTime? first = null;
        TimeSpan? before = null;
        TimeSpan days = TimeSpan.Zero;
        int empty = 0, twice = 0;
        foreach (RawRow row in sheet.Rows.Skip(columns.HeadingAt + 1))
        {
            RowFaults wrong = new(_faults, _file, _sheetName, row.Number);
            string typed = KeyCells.Plain(row[chosen.Index]);
            if (typed.Length == 0 || KeyCells.IsUnknown(typed))
            {
                empty++;
                continue;
            }
            (DateTime? stamp, TimeSpan? elapsed) = columns.Time(row, sign, wrong);
            double? kelvin = KeyCells.TemperatureK(typed, chosen, sign, wrong);
            if (wrong.Any || kelvin is null || (stamp is null && elapsed is null)) continue;
            first ??= stamp;
            TimeSpan at = elapsed ?? stamp!.Value - first!.Value;
            // A clock without a day begins anew at midnight.
            if (columns.IsClockOnly && at + days < before - s_halfDay) days += TimeSpan.FromDays(1);
            at += days;
            // Two stamps within a millisecond are one reading to any furnace.
            at = TimeSpan.FromMilliseconds(Math.Round(at.TotalMilliseconds));
            if (at == before)
            {
                twice++;
                continue;
            }
            if (at < before) wrong.Add(columns.TimeHeading, row[columns.TimeAt], "a time after that of the row before");
            else readings.Add((at.TotalMinutes, Math.Round(kelvin.Value - 273.15, 4)));
            if (before is null || at > before) before = at;
        }
        return Result(chosen, columns, first, readings, empty, twice);
    }

    private (FurnaceReadings?, IReadOnlyList<IntakeFault>) Result(ColumnTaken chosen, TraceColumns columns, DateTime? first, List<(double Minutes, double Celsius)> readings, int empty, int twice)
    {
        if (readings.Count > MostReadings) _faults.Add(new(_file, _sheetName, null, null, string.Create(CultureInfo.InvariantCulture, $"{readings.Count} readings"), string.Create(CultureInfo.InvariantCulture, $"at most {MostReadings}; record less often, or cut the file")));
        if (_faults.All.Count == 0 && readings.Count < 2) _faults.Add(new(_file, _sheetName, null, chosen.Heading, string.Create(CultureInfo.InvariantCulture, $"{readings.Count} reading{(readings.Count == 1 ? "" : "s")}"), "two readings or more, each with its time"));
        if (_faults.All.Count > 0) return (null, _faults.All);
        if (empty > 0) _notes.Add(string.Create(CultureInfo.InvariantCulture, $"{empty} row{(empty == 1 ? "" : "s")} without a temperature passed over."));
        if (twice > 0) _notes.Add(string.Create(CultureInfo.InvariantCulture, $"{twice} row{(twice == 1 ? "" : "s")} at the time of the row before passed over."));
        double start = readings[0].Minutes;
        return (new(chosen.Heading, columns.IsClockOnly ? null : first, [.. readings.Select(r => Math.Round(r.Minutes - start, 6))], [.. readings.Select(r => r.Celsius)], _notes), []);
    }
}
