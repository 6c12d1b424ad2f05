namespace Meltwise.Domain;

/// <summary>What an enquiry asks of its pictures, stamped before they are measured: the margin, how fields were picked, which pictures.</summary>
public sealed record StructureQuestion
{
    /// <summary>Lower limit of the ratio candidate over reference, above 0 and below 1.</summary>
    public required double Lower { get; init; }

    /// <summary>Upper limit, above 1.</summary>
    public required double Upper { get; init; }

    /// <summary>The rule by which fields were picked; null when not recorded.</summary>
    public string? FieldRule { get; init; }

    /// <summary>Names of the pictures; empty means all of its heats that are not set aside.</summary>
    public IReadOnlyList<string> Pictures { get; init; } = [];

    /// <summary>Picture whose kept settings serve for all; null chooses from all pictures together.</summary>
    public string? SettingsOf { get; init; }

    /// <summary>When it was asked.</summary>
    public required DateTime AtUtc { get; init; }

    /// <summary>By whom.</summary>
    public required string By { get; init; }

    /// <summary>When the key was opened; null while nobody is told whose a field is.</summary>
    public DateTime? OpenedAtUtc { get; init; }

    /// <summary>True when an earlier question of this enquiry had been opened before this one was asked.</summary>
    public bool AskedAfterOpening { get; init; }
}
