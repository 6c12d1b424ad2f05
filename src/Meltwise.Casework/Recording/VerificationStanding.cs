using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>How an instrument stood on a day.</summary>
public enum InstrumentState
{
    /// <summary>The bench has no verification of it: unknown, not failed.</summary>
    NoRecord,

    /// <summary>A passed verification held on the day.</summary>
    Verified,

    /// <summary>A passed verification held on the day, but the next one failed: what was read since the last good check is in doubt.</summary>
    DoubtedBack,

    /// <summary>The day lies before the first verification on this bench.</summary>
    BeforeFirst,

    /// <summary>The last passed verification had run out.</summary>
    Lapsed,

    /// <summary>The last verification had failed and none had passed since.</summary>
    Failed,
}

/// <summary>How an instrument stood on a day by its verifications. The one place that says so: for the checks at typing, the judging, and the lists of the workbench.</summary>
/// <remarks>A verification that failed ends all that passed before it. That a failed one casts doubt back to the last good check is common practice (and the sense of ISO/IEC 17025:2017, 6.4.9, from memory).</remarks>
/// <param name="State">How it stood.</param>
/// <param name="By">The verification that says so: the one that held, had lapsed or had failed; the first one for a day before it; null without a record.</param>
/// <param name="Next">The failed one that came next, for <see cref="InstrumentState.DoubtedBack"/>.</param>
public sealed record VerificationStanding(InstrumentState State, Verification? By, Verification? Next = null)
{
    /// <summary>True when a passed verification held, or the bench keeps no record of the instrument.</summary>
    public bool MayBeUsed => State is InstrumentState.NoRecord or InstrumentState.Verified or InstrumentState.DoubtedBack;

    /// <summary>How an instrument stood.</summary>
    /// <param name="kept">All verifications of the instrument, in any order.</param>
    /// <param name="day">The day.</param>
    public static VerificationStanding On(IEnumerable<Verification> kept, DateOnly day)
    {
        Verification[] inOrder = [.. kept.OrderBy(v => v.On)];
        if (inOrder.Length == 0) return new(InstrumentState.NoRecord, null);
        Verification[] before = [.. inOrder.Where(v => v.On <= day)];
        if (before.Length == 0) return new(InstrumentState.BeforeFirst, inOrder[0]);
        Verification? failed = before.LastOrDefault(v => !v.Passed);
        Verification? good = before.Where(v => v.Passed && (failed is null || v.On > failed.On)).MaxBy(v => v.ValidUntil);
        if (good is null) return new(InstrumentState.Failed, failed);
        if (good.ValidUntil < day) return new(InstrumentState.Lapsed, good);
        Verification? next = inOrder.FirstOrDefault(v => v.On > day);
        return next is { Passed: false } ? new(InstrumentState.DoubtedBack, good, next) : new(InstrumentState.Verified, good);
    }

    /// <summary>The stretches of days on which an instrument was not simply verified, oldest first; none for an instrument without any record.</summary>
    /// <param name="kept">All verifications of the instrument, in any order.</param>
    /// <param name="from">First day to look at.</param>
    /// <param name="to">Last day to look at.</param>
    public static IReadOnlyList<(DateOnly From, DateOnly To, VerificationStanding Standing)> Stretches(IReadOnlyCollection<Verification> kept, DateOnly from, DateOnly to)
    {
        if (kept.Count == 0) return [];
        DateOnly[] turns = [.. kept.SelectMany(v => new[] { v.On, v.ValidUntil == DateOnly.MaxValue ? v.ValidUntil : v.ValidUntil.AddDays(1) }).Append(from).Where(d => d >= from && d <= to).Distinct().Order()];
        List<(DateOnly From, DateOnly To, VerificationStanding Standing)> stretches = [];
        for (int i = 0; i < turns.Length; i++)
        {
            VerificationStanding standing = On(kept, turns[i]);
            if (standing.State == InstrumentState.Verified) continue;
            DateOnly end = i + 1 < turns.Length ? turns[i + 1].AddDays(-1) : to;
            if (stretches.Count > 0 && stretches[^1].Standing == standing && stretches[^1].To.AddDays(1) == turns[i]) stretches[^1] = stretches[^1] with { To = end };
            else stretches.Add((turns[i], end, standing));
        }
        return stretches;
    }

    /// <summary>Why, in a few words; empty when there is nothing to say.</summary>
    public string Why => State switch
    {
        InstrumentState.BeforeFirst => string.Create(CultureInfo.InvariantCulture, $"its first verification on this bench is of {By!.On:yyyy-MM-dd}"),
        InstrumentState.Lapsed => string.Create(CultureInfo.InvariantCulture, $"the verification of {By!.On:yyyy-MM-dd} held until {By.ValidUntil:yyyy-MM-dd}"),
        InstrumentState.Failed => string.Create(CultureInfo.InvariantCulture, $"the verification of {By!.On:yyyy-MM-dd} failed"),
        InstrumentState.DoubtedBack => string.Create(CultureInfo.InvariantCulture, $"the next verification, of {Next!.On:yyyy-MM-dd}, failed"),
        _ => "",
    };
}
