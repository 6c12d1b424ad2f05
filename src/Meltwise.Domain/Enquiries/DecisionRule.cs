namespace Meltwise.Domain;

/// <summary>Which difference the verdict is about (verdict steps 3 to 5).</summary>
public enum Estimand
{
    /// <summary>A: these two lots, as tested.</summary>
    AsTested,

    /// <summary>B: what remains at equal hardness.</summary>
    EqualHardness,

    /// <summary>C: the two sources in general.</summary>
    Sources,
}

/// <summary>What the client asks.</summary>
public enum Question
{
    /// <summary>Do they agree within the margin?</summary>
    Equivalent,

    /// <summary>Is the candidate not worse by more than the margin?</summary>
    NotWorse,

    /// <summary>Is the candidate better by more than the margin?</summary>
    Better,

    /// <summary>Is there any difference, and how large?</summary>
    Difference,
}

/// <summary>Whose scatter the intervals use (verdict step 2).</summary>
public enum ScatterChoice
{
    /// <summary>Each lot's own variance.</summary>
    Own,

    /// <summary>The lots' variances moderated by the bench's law.</summary>
    Lent,
}

/// <summary>The largest difference that the client would still call the same. A closed set.</summary>
public abstract record Margin
{
    private Margin() { }

    /// <summary>A ratio of candidate to reference between two limits, Low &lt; 1 &lt; High.</summary>
    public sealed record Ratio(double Low, double High) : Margin;

    /// <summary>A difference of means, plus or minus, in a unit of the property.</summary>
    public sealed record Absolute(double PlusMinus, string Unit) : Margin;

    /// <summary>What so many points of hardness are worth in the property, through the trend.</summary>
    public sealed record InHardness(double Hrc) : Margin;
}

/// <summary>The rule agreed before testing. Locking it stamps time and digest; a later change is an amendment and stays visible.</summary>
public sealed record DecisionRule
{
    /// <summary>Name of the first primary property, as a rule the only one.</summary>
    public required string Property { get; init; }

    /// <summary>The margin.</summary>
    public required Margin Margin { get; init; }

    /// <summary>The question.</summary>
    public Question Question { get; init; }

    /// <summary>The estimand.</summary>
    public Estimand Estimand { get; init; }

    /// <summary>Own or lent scatter.</summary>
    public ScatterChoice Scatter { get; init; }

    /// <summary>Error rate of each claim.</summary>
    public double Alpha { get; init; } = 0.05;

    /// <summary>1, or 2 when this look follows the planned extension; null when no extension is planned. With a plan each look uses half of alpha.</summary>
    public int? Look { get; init; }

    /// <summary>Overrides the scale of the shipped table.</summary>
    public PropertyScale? Scale { get; init; }

    /// <summary>Overrides the good direction of the shipped table.</summary>
    public GoodDirection? Better { get; init; }

    /// <summary>Between-session standard deviation of hardness, HRC; null means not known, taken as 0 and said.</summary>
    public double? SessionSdHrc { get; init; }

    /// <summary>Where <see cref="SessionSdHrc"/> comes from, when it is what the bench's own checks gave; null when it was typed or is not known.</summary>
    public string? SessionSdFrom { get; init; }

    /// <summary>True when the two lots' hardness was not measured in one session.</summary>
    public bool SeparateSessions { get; init; }

    /// <summary>True when the slope of a temper ladder is named instead of the slope between heats.</summary>
    public bool LadderSlope { get; init; }

    /// <summary>Grade family whose history the trend may use; null means the same grade only.</summary>
    public string? TrendFamily { get; init; }

    /// <summary>Planned number of coupons in each lot; null when not planned.</summary>
    public int? PlannedCouponsPerLot { get; init; }

    /// <summary>Digest of the history the rule was fixed with; null when none.</summary>
    public string? HistoryDigest { get; init; }

    /// <summary>Further primary properties, each with its own margin: all must agree. Null when there are none.</summary>
    public IReadOnlyList<OtherProperty>? FurtherPrimaries { get; init; }

    /// <summary>Secondary properties, each with its own margin. Null when there are none.</summary>
    public IReadOnlyList<OtherProperty>? Secondaries { get; init; }

    /// <summary>All properties beside the first, primaries first.</summary>
    public IEnumerable<(PropertyRole Role, OtherProperty Property)> OtherProperties() =>
        (FurtherPrimaries ?? []).Select(p => (PropertyRole.Primary, p)).Concat((Secondaries ?? []).Select(p => (PropertyRole.Secondary, p)));
}
