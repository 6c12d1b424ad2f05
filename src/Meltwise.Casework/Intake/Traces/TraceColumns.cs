using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>The columns of a furnace recorder's file: one of time, perhaps one of the day, and those of temperature.</summary>
internal sealed record TraceColumns(int HeadingAt, int TimeAt, string TimeHeading, string? TimeUnit, int? DayAt, IReadOnlyList<ColumnTaken> Temperatures)
{
    private static readonly string[] s_days = ["yyyy-MM-dd", "yyyy/MM/dd", "yyyy.MM.dd", "dd.MM.yyyy", "d.M.yyyy"];
    private static readonly string[] s_stamps = [.. s_days, .. s_days.SelectMany(d => new[] { "HH:mm", "HH:mm:ss", "HH:mm:ss.FFFFFF" }.SelectMany(t => new[] { $"{d} {t}", $"{d}'T'{t}", $"{d}'T'{t}'Z'" }))];

    private static readonly string[] s_noDay = ["1899-12-30", "1904-01-01"];

    private bool _sawStamp;

    /// <summary>True when the file tells the clock but no day.</summary>
    public bool IsClockOnly => TimeUnit is null && !_sawStamp;

    /// <summary>The columns, when a row heads a time and a temperature; null otherwise.</summary>
    public static TraceColumns? Of(int at, RawRow heading)
    {
        int time = -1;
        int? day = null;
        string? unit = null;
        List<ColumnTaken> temperatures = [];
        for (int i = 0; i < heading.Cells.Length; i++)
        {
            Heading h = Heading.Of(heading.Cells[i]);
            if (heading.Cells[i].Length == 0) continue;
            if (TemperatureUnit(h) is { } celsius) temperatures.Add(new(null, i, heading.Cells[i], ColumnRole.NotRead, h.Name, celsius, false));
            else if (h.Name is "date" or "day") day = i;
            else if (time < 0 && IsTime(h, out string? of)) (time, unit) = (i, of);
        }
        return time < 0 || temperatures.Count == 0 ? null : new(at, time, heading.Cells[time], unit, day, temperatures);
    }

    /// <summary>The column of temperature to read: as named; the only one; the only one of the load. Null when that does not tell.</summary>
    public ColumnTaken? Choose(string? channel)
    {
        if (!string.IsNullOrWhiteSpace(channel))
        {
            string wanted = channel.Trim();
            return Temperatures.FirstOrDefault(t => string.Equals(t.Heading, wanted, StringComparison.OrdinalIgnoreCase)) ?? Only(t => string.Equals(t.Name, wanted, StringComparison.OrdinalIgnoreCase));
        }
        return Only(_ => true) ?? Only(t => t.Name.Contains("load", StringComparison.Ordinal));

        ColumnTaken? Only(Func<ColumnTaken, bool> which) => Temperatures.Where(which).ToArray() is [var one] ? one : null;
    }

    /// <summary>The time of a row: a stamp with its day, or what has elapsed (for a clock without a day, since midnight).</summary>
    public (DateTime? Stamp, TimeSpan? Elapsed) Time(RawRow row, DecimalSign sign, RowFaults wrong)
    {
        string cell = KeyCells.Plain(row[TimeAt]);
        if (TimeUnit is not null)
        {
            double factor = TimeUnit switch { "s" => 1.0 / 60, "h" => 60, _ => 1 };
            if (TypedFigure.TryRead(cell, sign, out Figure figure, out _) && figure is { Censoring: Censoring.None, Unit: "" } && Math.Abs(figure.Value * factor) < 1e7) return (null, TimeSpan.FromMinutes(figure.Value * factor));
            if (!TryClock(cell, out TimeSpan typed)) return Fault(cell, $"a time in {TimeUnit}");
            return (null, typed);
        }
        // A worksheet keeps a clock as a time on the day before its first one, and midnight as a day without a time.
        if (s_noDay.FirstOrDefault(d => cell.StartsWith(d, StringComparison.Ordinal)) is { } none) cell = cell.Length > none.Length ? cell[(none.Length + 1)..] : "00:00:00";
        string day = DayAt is { } d ? KeyCells.Plain(row[d]) : "";
        if (DateTime.TryParseExact(day.Length > 0 ? $"{(day.Length > 10 ? day[..10] : day)} {cell}" : cell, s_stamps, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out DateTime stamp)
            || DateTime.TryParseExact(cell, s_stamps, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal, out stamp))
        {
            _sawStamp = true;
            return (DateTime.SpecifyKind(stamp, DateTimeKind.Unspecified), null);
        }
        return day.Length == 0 && TryClock(cell, out TimeSpan clock) ? (null, clock) : Fault($"{day} {cell}".Trim(), "a time such as 2026-03-31 14:05:00, 31.03.2026 14:05 or 14:05:00; or the unit in the heading, e.g. time [min]");

        (DateTime?, TimeSpan?) Fault(string found, string expected)
        {
            wrong.Add(TimeHeading, found.Length == 0 ? "an empty cell" : found, expected);
            return (null, null);
        }
    }

    // Elapsed time may run beyond a day, so that no clock of the library reads it.
    private static bool TryClock(string cell, out TimeSpan clock)
    {
        string[] parts = cell.Split(':');
        bool good = parts.Length is 2 or 3 & int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out int hours);
        (int minutes, double seconds) = (0, 0);
        good = good && hours < 10_000 && int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out minutes) && minutes < 60
            && (parts.Length == 2 || (double.TryParse(parts[2].Replace(',', '.'), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out seconds) && seconds < 60));
        clock = good ? new TimeSpan(hours, minutes, 0) + TimeSpan.FromSeconds(seconds) : TimeSpan.Zero;
        return good;
    }

    private static string? TemperatureUnit(Heading h) => h.Unit is { } unit ? ColumnRecognition.TemperatureUnit(unit)
        : h.Name.EndsWith("°c", StringComparison.Ordinal) || h.Name.EndsWith("deg c", StringComparison.Ordinal) ? "°C"
        : h.Name.EndsWith("°f", StringComparison.Ordinal) || h.Name.EndsWith("deg f", StringComparison.Ordinal) ? "°F"
        : null;

    // A time whose unit is none of these is no time of ours: days of a recorder come as stamps.
    private static bool IsTime(Heading h, out string? unit)
    {
        if (h.Unit?.Contains(':', StringComparison.Ordinal) == true) h = h with { Unit = null };
        unit = UnitOfTime(h.Unit) ?? UnitOfTime(h.Name) ?? UnitOfTime(h.Name.Split(' ')[^1]);
        return unit is not null ? h.Unit is null || UnitOfTime(h.Unit) is not null
            : h.Unit is null && (h.Name is "time" or "clock" or "timestamp" or "time stamp" or "date time" or "datetime" or "date/time" or "date and time" or "elapsed" or "elapsed time");
    }

    private static string? UnitOfTime(string? text) => text?.ToUpperInvariant() switch
    {
        "S" or "SEC" or "SECS" or "SECOND" or "SECONDS" => "s",
        "MIN" or "MINS" or "MINUTE" or "MINUTES" => "min",
        "H" or "HR" or "HRS" or "HOUR" or "HOURS" => "h",
        _ => null,
    };
}
