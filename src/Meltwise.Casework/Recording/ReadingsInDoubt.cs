using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>A reading made on a day on which its instrument was not in verification, or that a later failed check puts in doubt.</summary>
/// <param name="Reading">The reading.</param>
/// <param name="Day">The day.</param>
/// <param name="Standing">How the instrument stood.</param>
public sealed record ReadingInDoubt(Reading Reading, DateOnly Day, VerificationStanding Standing);

/// <summary>Readings that the verifications of their instruments do not cover. An instrument without any record is unknown, and its readings are not listed.</summary>
public static class ReadingsInDoubt
{
    /// <summary>Of one instrument over the whole bench, oldest first.</summary>
    public static IReadOnlyList<ReadingInDoubt> OfInstrument(IBench bench, string instrument)
    {
        IReadOnlyList<Verification> kept = bench.Verifications(instrument);
        return kept.Count == 0 ? [] : Of(bench.ReadingsBy(instrument), _ => kept);
    }

    /// <summary>Of the coupons of an enquiry, oldest first.</summary>
    public static IReadOnlyList<ReadingInDoubt> OfCoupons(IBench bench, IEnumerable<CouponRow> coupons)
    {
        HashSet<CouponKey> keys = [.. coupons.Select(r => new CouponKey(r.Heat, r.Coupon))];
        ILookup<string, Verification> kept = bench.Verifications().ToLookup(v => v.Instrument, StringComparer.Ordinal);
        return kept.Count == 0 ? [] : Of(
            keys.Select(k => k.Heat).Distinct(StringComparer.Ordinal).SelectMany(h => bench.Readings(new CouponKey(h, ""))).Where(r => keys.Contains(r.Coupon)),
            i => kept[i]);
    }

    /// <summary>In a sentence for each instrument and each way it stood: how many readings, when, and why.</summary>
    public static IEnumerable<string> Say(IEnumerable<ReadingInDoubt> readings) =>
        readings.GroupBy(r => (r.Reading.Instrument, r.Standing.State, r.Standing.Why)).Select(g => string.Create(CultureInfo.InvariantCulture,
            $"{Count(g.Count())} of {g.First().Reading.Property} {(g.Key.State == InstrumentState.DoubtedBack ? "in doubt" : "made while not in verification")}: {g.Key.Instrument}, {Days(g)}; {g.Key.Why}."));

    private static IReadOnlyList<ReadingInDoubt> Of(IEnumerable<Reading> readings, Func<string, IEnumerable<Verification>> kept)
    {
        Dictionary<(string, DateOnly), VerificationStanding> known = [];
        List<ReadingInDoubt> doubtful = [];
        foreach (Reading reading in readings.Where(r => r is { Instrument: not null, ReadOn: not null }))
        {
            (string Instrument, DateOnly Day) use = (reading.Instrument!, reading.ReadOn!.Value);
            if (!known.TryGetValue(use, out VerificationStanding? standing)) known[use] = standing = VerificationStanding.On(kept(use.Instrument), use.Day);
            if (standing.State is not (InstrumentState.Verified or InstrumentState.NoRecord)) doubtful.Add(new(reading, use.Day, standing));
        }
        return [.. doubtful.OrderBy(d => d.Day)];
    }

    private static string Count(int readings) => readings == 1 ? "1 reading" : string.Create(CultureInfo.InvariantCulture, $"{readings} readings");

    private static string Days(IEnumerable<ReadingInDoubt> readings)
    {
        DateOnly[] days = [.. readings.Select(r => r.Day).Distinct().Order()];
        return days.Length == 1
            ? string.Create(CultureInfo.InvariantCulture, $"{days[0]:yyyy-MM-dd}")
            : string.Create(CultureInfo.InvariantCulture, $"{days[0]:yyyy-MM-dd} to {days[^1]:yyyy-MM-dd}");
    }
}
