namespace Meltwise.Domain;

/// <summary>What a thermocouple of a furnace load recorded during one step of its treatment, with the file it came in.</summary>
public sealed record FurnaceTrace
{
    /// <summary>Short name, unique on the bench: <c>T-4</c>.</summary>
    public required string Name { get; init; }

    /// <summary>The furnace load.</summary>
    public required string Load { get; init; }

    /// <summary>Step of the treatment: <c>austenitize</c>, <c>temper 2</c>; null when not said.</summary>
    public string? Step { get; init; }

    /// <summary>Heading of the column that was read: which thermocouple.</summary>
    public required string Channel { get; init; }

    /// <summary>Set value of the step, °C.</summary>
    public required double SetC { get; init; }

    /// <summary>By how much the load may differ from it, °C.</summary>
    public required double ToleranceC { get; init; }

    /// <summary>When the trace began, by the clock of the recorder; null when the file tells elapsed time only.</summary>
    public DateTime? StartedAt { get; init; }

    /// <summary>Times, minutes from the first reading, rising.</summary>
    public required IReadOnlyList<double> Minutes { get; init; }

    /// <summary>Temperatures, °C.</summary>
    public required IReadOnlyList<double> TemperatureC { get; init; }

    /// <summary>Name of the file it came in; null in a version that names nobody.</summary>
    public string? FileName { get; init; }

    /// <summary>SHA-256 of that file, hexadecimal, lower case.</summary>
    public required string Sha256 { get; init; }

    /// <summary>The file as it came: gzip, base64; null in a version that names nobody.</summary>
    public string? Original { get; init; }

    /// <summary>Why it does not count; null while it does.</summary>
    public string? SetAside { get; init; }
}
