using Meltwise.Domain;

namespace Meltwise.Casework.Studying;

/// <summary>A treatment study: groups of coupons compared at once.</summary>
public sealed record StudyRequest
{
    /// <summary>The coupons.</summary>
    public required CouponTable Table { get; init; }

    /// <summary>Property, margin and error rate; estimand and scatter of the rule are not used.</summary>
    public required DecisionRule Rule { get; init; }

    /// <summary>Columns whose values make the groups, by their names in the table: <c>treatment</c>, <c>route</c>, <c>temper family</c>, ...</summary>
    public required IReadOnlyList<string> By { get; init; }

    /// <summary>The control group; null compares all pairs.</summary>
    public string? Control { get; init; }

    /// <summary>The groups in order; null where they have none.</summary>
    public IReadOnlyList<string>? Order { get; init; }

    /// <summary>The value of each level in that order; null takes them as equally spaced.</summary>
    public LevelScale? Levels { get; init; }
}

/// <summary>The study cannot be set up; the message is fit for a reader.</summary>
public sealed class StudyFaultException(string message) : Exception(message);
