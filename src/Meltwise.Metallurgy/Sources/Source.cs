namespace Meltwise.Metallurgy.Sources;

/// <summary>How a published value came into this program. Ordered from the firmest to the weakest.</summary>
public enum SourceStatus
{
    /// <summary>The published text was read.</summary>
    Retrieved,

    /// <summary>The value stands in an open collection of published parameters, which cites the paper.</summary>
    Collection,

    /// <summary>A published value written from memory of the named source: check it against the source before quoting it.</summary>
    FromMemory,

    /// <summary>What the trade does; no source.</summary>
    CommonPractice,

    /// <summary>A modelling choice of this program.</summary>
    Assumption,
}

/// <summary>Where a number comes from, and how far that was checked. Every result carries its sources.</summary>
/// <param name="Citation">Author, journal or standard, year; or the reason of a choice.</param>
/// <param name="Status">How the value came into this program.</param>
public sealed record Source(string Citation, SourceStatus Status)
{
    /// <summary>Citation with its status in words, as a reader sees it.</summary>
    public override string ToString() => $"{Citation} ({Status switch
    {
        SourceStatus.Retrieved => "read",
        SourceStatus.Collection => "from an open collection that cites it",
        SourceStatus.FromMemory => "from memory",
        SourceStatus.CommonPractice => "common practice, no source",
        _ => "our assumption",
    }})";
}
