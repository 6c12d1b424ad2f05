using System.Globalization;
using Meltwise.Domain;
using Meltwise.Statistics;
using Meltwise.Statistics.Interlaboratory;

namespace Meltwise.Casework.Recording;

/// <summary>What the bench's own checks tell of an instrument's scatter from session to session. A session is a day on which a reference was read.</summary>
/// <param name="Instrument">The instrument.</param>
/// <param name="Unit">Unit of its scale.</param>
/// <param name="References">Blocks or reference lots that were read on two days or more.</param>
/// <param name="From">First day.</param>
/// <param name="To">Last day.</param>
/// <param name="Estimate">The scatter; null when it cannot be estimated.</param>
/// <param name="MeansOnly">Checks of which only the mean was put down; they do not enter.</param>
/// <param name="Failed">Checks that failed; they do not enter.</param>
public sealed record SessionScatter(string Instrument, string Unit, IReadOnlyList<string> References, DateOnly? From, DateOnly? To, BetweenSessionScatter? Estimate, int MeansOnly, int Failed)
{
    /// <summary>Degrees of freedom from which on a value is offered: five days of one block, and a day more for every further block.</summary>
    public const int FewestDegreesOfFreedom = 4;

    // Below a hundredth of the scale's unit nothing is claimed of a scatter.
    private const int Decimals = 2;

    /// <summary>True when there are sessions enough for a rule to use it.</summary>
    public bool IsEnough => Estimate is { } e && e.SessionDegreesOfFreedom >= FewestDegreesOfFreedom;

    /// <summary>The value as a rule takes it, rounded as it is said; null when it is not offered.</summary>
    public double? Offered => IsEnough ? Math.Round(Estimate!.Sd, Decimals) : null;

    /// <summary>From the checks of an instrument; null when none names its reference.</summary>
    /// <param name="instrument">The instrument.</param>
    /// <param name="kept">Its verifications, in any order.</param>
    /// <param name="until">Last day to take in; null for all.</param>
    public static SessionScatter? Of(Instrument instrument, IEnumerable<Verification> kept, DateOnly? until = null)
    {
        Verification[] named = [.. kept.Where(v => v.Instrument == instrument.Name && !string.IsNullOrWhiteSpace(v.Reference) && (until is null || v.On <= until)).OrderBy(v => v.On)];
        if (named.Length == 0) return null;
        Verification[] read = [.. named.Where(v => v is { Passed: true, Readings.Count: > 0 })];
        string[] references = [.. read.Select(v => v.Reference!.Trim()).Distinct(StringComparer.OrdinalIgnoreCase)];
        SessionReadings[] sessions = [.. read.Select(v => new SessionReadings(Array.FindIndex(references, r => string.Equals(r, v.Reference!.Trim(), StringComparison.OrdinalIgnoreCase)), v.On.DayNumber, v.Readings!))];
        string[] telling = [.. references.Where((_, i) => sessions.Count(s => s.Reference == i) > 1)];
        return new(instrument.Name, instrument.Unit, telling, read.Length > 0 ? read[0].On : null, read.Length > 0 ? read[^1].On : null,
            Estimated(sessions), named.Count(v => v is { Passed: true, Readings: null, Found: not null }), named.Count(v => !v.Passed));
    }

    /// <summary>Of the instrument that read the hardness of some heats; where that is not recorded, of the bench's hardness tester that was checked most. Null when there is none.</summary>
    public static SessionScatter? OfHardness(IBench bench, IEnumerable<string> heats)
    {
        Dictionary<string, Instrument> testers = bench.Instruments().Where(i => i.Property == PropertyTable.Hardness.Name && i.Unit == PropertyTable.Hardness.StoredUnit.Name).ToDictionary(i => i.Name, StringComparer.Ordinal);
        if (testers.Count == 0) return null;
        string? used = heats.SelectMany(h => bench.Readings(new CouponKey(h, ""))).Where(r => r.Property == PropertyTable.Hardness.Name && r.Instrument is not null)
            .GroupBy(r => r.Instrument!, StringComparer.Ordinal).OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal).FirstOrDefault()?.Key;
        if (used is not null) return testers.TryGetValue(used, out Instrument? tester) ? Of(tester, bench.Verifications(used)) : null;
        return testers.Values.Select(i => Of(i, bench.Verifications(i.Name))).OfType<SessionScatter>().MaxBy(s => s.Estimate?.Sessions ?? 0);
    }

    /// <summary>In a few words: <c>scatter between sessions 0.12 HRC (0.08 to 0.21), 14 sessions</c>.</summary>
    public string InWords => Estimate is { } e
        ? Say($"scatter between sessions {Number(e.Sd)} {Unit} ({Number(e.Lower)} to {Number(e.Upper)}), {Counted(e.Sessions, "session")}{(IsEnough ? "" : ": too few to use")}")
        : Say($"scatter between sessions not known: {Missing}");

    /// <summary>Where an offered value comes from, as a rule keeps it.</summary>
    public string Origin => Estimate is { } e
        ? Say($"checks of {Instrument} on {string.Join(", ", References)}, {Counted(e.Sessions, "session")} from {From:yyyy-MM-dd} to {To:yyyy-MM-dd}; 95 % interval {Number(e.Lower)} to {Number(e.Upper)} {Unit}")
        : "";

    /// <summary>What is missing for a value to be offered; empty when nothing is.</summary>
    public string Missing => IsEnough ? ""
        : Estimate is { } e ? Say($"{Counted(e.Sessions, "session")} of {Counted(References.Count, "block")}; from five days of one block on, and a day more for every further block, the value can be used")
        : MeansOnly > 0 ? "the checks hold a mean only; put down their single readings, two or more a day, so that the scatter of the readings can be taken off"
        : "no block was read on two days with two readings or more";

    /// <summary>What the numbers rest on, in sentences.</summary>
    public IEnumerable<string> Notes()
    {
        if (Estimate is { } e)
            yield return Say($"{Counted(e.Readings, "reading")} on {string.Join(", ", References)}; readings of one session scatter by {Number(e.RepeatabilitySd)} {Unit}, which is taken off. One-way random effects, 95 % interval (Williams 1962).");
        foreach (string note in Estimate?.Notes ?? []) yield return note;
        if (MeansOnly > 0 && Estimate is not null) yield return Say($"{Counted(MeansOnly, "check")} with a mean only did not enter.");
        if (Failed > 0) yield return Say($"{Counted(Failed, "check")} that failed did not enter.");
    }

    private static BetweenSessionScatter? Estimated(SessionReadings[] sessions)
    {
        try
        {
            return BetweenSessionScatter.Of(sessions);
        }
        catch (InsufficientDataException)
        {
            return null;
        }
    }

    private static string Number(double value) => value.ToString("F" + Decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    private static string Counted(int count, string what) => string.Create(CultureInfo.InvariantCulture, $"{count} {what}{(count == 1 ? "" : "s")}");

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
