namespace Meltwise.Casework.Intake;

/// <summary>Units of time in a table of hot histories.</summary>
internal static class HotHistoryUnits
{
    /// <summary>The unit as our own headings write it, or null when it is none. A time without a unit is not guessed.</summary>
    public static string? Time(string? unit) => unit?.Trim().TrimEnd('.').ToUpperInvariant() switch
    {
        "H" or "HR" or "HRS" or "HOUR" or "HOURS" => "h",
        "MIN" or "MINS" or "MINUTE" or "MINUTES" => "min",
        _ => null,
    };

    /// <summary>Hours of one such unit, or null.</summary>
    public static double? HoursOf(string? unit) => Time(unit) switch { "h" => 1, "min" => 1.0 / 60, _ => null };
}
