using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Storage.Records;

/// <summary>How instants, days and choices are written in the bench, and read back.</summary>
internal static class StoredForms
{
    public static string Instant(DateTime utc) => utc.ToUniversalTime().ToString("yyyy-MM-ddTHH:mm:ss.fffffffZ", CultureInfo.InvariantCulture);

    public static string? Instant(DateTime? utc) => utc is { } u ? Instant(u) : null;

    public static DateTime ToInstant(object? cell) =>
        DateTime.Parse((string)cell!, CultureInfo.InvariantCulture, DateTimeStyles.AdjustToUniversal | DateTimeStyles.AssumeUniversal);

    public static DateTime? ToInstantOrNull(object? cell) => cell is null ? null : ToInstant(cell);

    public static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    public static string? Day(DateOnly? day) => day is { } d ? Day(d) : null;

    public static DateOnly ToDay(object? cell) => DateOnly.ParseExact((string)cell!, "yyyy-MM-dd", CultureInfo.InvariantCulture);

    public static DateOnly? ToDayOrNull(object? cell) => cell is null ? null : ToDay(cell);

    /// <summary>Numbers parted by spaces, each in the shortest form that reads back to it; null for none.</summary>
    public static string? Series(IReadOnlyList<double>? values) => values is { Count: > 0 } ? string.Join(' ', values.Select(v => v.ToString("R", CultureInfo.InvariantCulture))) : null;

    public static IReadOnlyList<double>? ToSeries(object? cell) =>
        cell is string text ? [.. text.Split(' ').Select(v => double.Parse(v, NumberStyles.Float, CultureInfo.InvariantCulture))] : null;

    public static string Of(Censoring censoring) => censoring switch { Censoring.Above => "above", Censoring.Below => "below", _ => "none" };

    public static Censoring ToCensoring(string text) => text switch { "above" => Censoring.Above, "below" => Censoring.Below, _ => Censoring.None };

    public static string? Of(HardnessMoment? moment) => moment switch { HardnessMoment.BeforeTest => "before", HardnessMoment.AfterTest => "after", _ => null };

    public static HardnessMoment? ToHardnessMoment(string? text) => text switch { "before" => HardnessMoment.BeforeTest, "after" => HardnessMoment.AfterTest, _ => null };

    public static string Of(CouponState state) => state switch
    {
        CouponState.Invalid => "invalid",
        CouponState.Excluded => "excluded",
        CouponState.NotBroken => "not broken",
        CouponState.NotDone => "not done",
        _ => "valid",
    };

    public static CouponState ToState(string text) => text switch
    {
        "invalid" => CouponState.Invalid,
        "excluded" => CouponState.Excluded,
        "not broken" => CouponState.NotBroken,
        "not done" => CouponState.NotDone,
        _ => CouponState.Valid,
    };
}
