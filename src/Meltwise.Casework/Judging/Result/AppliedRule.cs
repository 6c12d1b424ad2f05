namespace Meltwise.Casework.Judging;

/// <summary>The rule as it was applied.</summary>
public sealed record AppliedRule
{
    /// <summary>Name of the primary property.</summary>
    public required string Property { get; init; }

    /// <summary>Unit of comparison.</summary>
    public required string Unit { get; init; }

    /// <summary><c>log</c> or <c>linear</c>.</summary>
    public required string Scale { get; init; }

    /// <summary><c>as-tested</c>, <c>equal-hardness</c> or <c>sources</c>.</summary>
    public required string Estimand { get; init; }

    /// <summary><c>equivalent</c>, <c>not-worse</c>, <c>better</c> or <c>difference</c>.</summary>
    public required string Question { get; init; }

    /// <summary><c>own</c> or <c>lent</c>.</summary>
    public required string Scatter { get; init; }

    /// <summary>Error rate of each claim at this look.</summary>
    public required double Alpha { get; init; }

    /// <summary>1 or 2 when an extension is planned or was made; null otherwise.</summary>
    public int? Look { get; init; }

    /// <summary><c>ratio</c>, <c>absolute</c> or <c>hardness</c>.</summary>
    public required string MarginKind { get; init; }

    /// <summary>Lower limit as a ratio: as agreed, or what an absolute or hardness margin comes to; null on a linear scale.</summary>
    public double? MarginLow { get; init; }

    /// <summary>Upper limit as a ratio.</summary>
    public double? MarginHigh { get; init; }

    /// <summary>Plus or minus, in the unit of comparison.</summary>
    public double? MarginAbs { get; init; }

    /// <summary>Points of hardness.</summary>
    public double? MarginHrc { get; init; }

    /// <summary>Good direction; null when there is none.</summary>
    public bool? HigherIsBetter { get; init; }

    /// <summary>Between-session standard deviation of hardness in HRC, 0 when not known.</summary>
    public double SessionSd { get; init; }

    /// <summary>Where <see cref="SessionSd"/> comes from, when the bench worked it out itself; null otherwise.</summary>
    public string? SessionSdFrom { get; init; }

    /// <summary>True when the rule names the slope of a temper ladder of the history; null otherwise.</summary>
    public bool? LadderSlope { get; init; }

    /// <summary><c>locked</c>, <c>locked late</c> (coupons had been read), <c>amended</c>, <c>unlocked</c> or <c>not stamped</c>.</summary>
    public required string Standing { get; init; }

    /// <summary>When it was locked.</summary>
    public DateTime? LockedAtUtc { get; init; }

    /// <summary>Digest of the rule.</summary>
    public string? Digest { get; init; }
}

/// <summary>What kind of coupon was compared: one property, geometry, orientation, test temperature and treatment. Null is unknown or not in the table.</summary>
public sealed record Stratum
{
    /// <summary>The property.</summary>
    public required string Property { get; init; }

    /// <summary>Grade of the lots, where they share one.</summary>
    public string? Grade { get; init; }

    /// <summary>Route of the lots, where they share one.</summary>
    public string? Route { get; init; }

    /// <summary>Size and notch.</summary>
    public string? Geometry { get; init; }

    /// <summary>Orientation.</summary>
    public string? Orientation { get; init; }

    /// <summary>Temperature of the test in °C.</summary>
    public double? TestTemperatureC { get; init; }

    /// <summary>Treatment.</summary>
    public string? Treatment { get; init; }

    /// <summary>Low or high temper.</summary>
    public string? TemperFamily { get; init; }

    /// <summary>Differences between the coupons that stop the comparison as tested, in words.</summary>
    public IReadOnlyList<string> Differences { get; init; } = [];

    /// <summary>Columns that the table does not have, so that nothing is known of them.</summary>
    public IReadOnlyList<string> NotRecorded { get; init; } = [];

    /// <summary>The condition in a few words, for sentences: <c>unnotched 7×10×55, L, 23 °C</c>.</summary>
    public required string Condition { get; init; }
}

/// <summary>What of the history was used.</summary>
public sealed record HistoryUse
{
    /// <summary>Name of the table.</summary>
    public required string Table { get; init; }

    /// <summary>Rows in it.</summary>
    public required int Rows { get; init; }

    /// <summary>Matched for the trend and the sources: same grade or family, route, geometry, orientation, test temperature, temper family.</summary>
    public required HistoryCount Matched { get; init; }

    /// <summary>Matched for the scatter law: same geometry and orientation, any treatment.</summary>
    public required HistoryCount MatchedForScatter { get; init; }

    /// <summary>Rows left out of the trend, by reason; a row counts under its first reason.</summary>
    public IReadOnlyList<LeftOutCount> LeftOut { get; init; } = [];

    /// <summary>Columns that a table lacks: its coupons are taken as of one kind in them.</summary>
    public IReadOnlyList<string> TakenAsOneKind { get; init; } = [];
}

/// <summary>Coupons and heats.</summary>
public sealed record HistoryCount(int Coupons, int Heats);

/// <summary>Rows of the history left out for one reason.</summary>
public sealed record LeftOutCount(string Reason, int Coupons);
