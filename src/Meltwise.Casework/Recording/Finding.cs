namespace Meltwise.Casework.Recording;

/// <summary>How much a finding weighs.</summary>
public enum FindingWeight
{
    /// <summary>Worth knowing.</summary>
    Note,

    /// <summary>It was done, and a person should look at it.</summary>
    Warning,

    /// <summary>It was not done.</summary>
    Fault,
}

/// <summary>Something that came up while a change was made, in plain words: what was found, what was expected, what to do.</summary>
/// <param name="Weight">Note, warning or fault.</param>
/// <param name="Text">In words.</param>
public sealed record Finding(FindingWeight Weight, string Text)
{
    /// <summary>A note.</summary>
    public static Finding Note(string text) => new(FindingWeight.Note, text);

    /// <summary>A warning.</summary>
    public static Finding Warning(string text) => new(FindingWeight.Warning, text);

    /// <summary>A fault.</summary>
    public static Finding Fault(string text) => new(FindingWeight.Fault, text);
}

/// <summary>What became of a use case.</summary>
/// <param name="Value">The record as it now stands; null when nothing was stored.</param>
/// <param name="Findings">What came up.</param>
public sealed record Outcome<T>(T? Value, IReadOnlyList<Finding> Findings)
    where T : class
{
    /// <summary>True when it was stored.</summary>
    public bool Done => Value is not null;

    /// <summary>Nothing was stored.</summary>
    internal static Outcome<T> Refused(params IEnumerable<string> faults) => new(null, [.. faults.Select(Finding.Fault)]);

    /// <summary>It was stored.</summary>
    internal static Outcome<T> Stored(T value, params IEnumerable<Finding> findings) => new(value, [.. findings]);
}

/// <summary>Who makes a change, and when it is stamped.</summary>
/// <param name="By">Name of the person.</param>
/// <param name="Clock">Clock of the stamps; null means the system's.</param>
public sealed record Hand(string By, TimeProvider? Clock = null)
{
    /// <summary>The instant of the stamp.</summary>
    internal DateTime NowUtc => (Clock ?? TimeProvider.System).GetUtcNow().UtcDateTime;
}
