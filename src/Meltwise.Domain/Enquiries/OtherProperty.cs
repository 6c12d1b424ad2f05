namespace Meltwise.Domain;

/// <summary>What a further property of a rule counts for.</summary>
public enum PropertyRole
{
    /// <summary>It must agree too: the lots are equivalent only where every primary property is.</summary>
    Primary,

    /// <summary>Judged by its own margin and shown beside the verdict, which it does not change.</summary>
    Secondary,
}

/// <summary>A property that a rule judges beside its first one, by a margin of its own.</summary>
/// <param name="Property">Its name.</param>
/// <param name="Margin">Its margin.</param>
public sealed record OtherProperty(string Property, Margin Margin)
{
    /// <summary>Overrides the scale of the shipped table.</summary>
    public PropertyScale? Scale { get; init; }

    /// <summary>Overrides the good direction of the shipped table.</summary>
    public GoodDirection? Better { get; init; }
}
