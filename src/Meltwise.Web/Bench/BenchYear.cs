using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Web.Bench;

/// <summary>Twelve months of work by instrument: how much was read each day, and when the instrument was verified.</summary>
public sealed record BenchYear(DateOnly From, DateOnly To, DateOnly Today, IReadOnlyList<InstrumentYear> Instruments)
{
    /// <summary>The year that ends a month after today, or after the last reading where the bench rested longer than a year.</summary>
    public static BenchYear Of(IBench bench, IReadOnlyList<RecordedReading> readings, DateOnly today)
    {
        DateOnly[] days = [.. readings.Select(DayOf)];
        DateOnly last = days.Length == 0 ? today : days.Max();
        DateOnly end = last < today.AddYears(-1) ? last : today;
        var from = new DateOnly(end.AddMonths(-11).Year, end.AddMonths(-11).Month, 1);
        DateOnly to = from.AddMonths(13);
        ILookup<string, RecordedReading> byInstrument = readings.ToLookup(r => r.Reading.Instrument ?? "", StringComparer.Ordinal);
        ILookup<string, Verification> verifications = bench.Verifications().ToLookup(v => v.Instrument, StringComparer.Ordinal);
        InstrumentYear[] rows =
        [
            .. bench.Instruments().Select(i => new InstrumentYear(
                i.Name,
                [.. byInstrument[i.Name].GroupBy(DayOf).Where(g => g.Key >= from && g.Key < to).Select(g => (g.Key, g.Count()))],
                [.. Joined(verifications[i.Name].Where(v => v.Passed && v.ValidUntil >= from && v.On < to))])),
        ];
        return new(from, to, today, rows);
    }

    // A verification made before the last one ran out carries on the same span.
    private static IEnumerable<(DateOnly From, DateOnly To)> Joined(IEnumerable<Verification> verifications)
    {
        (DateOnly From, DateOnly To)? open = null;
        foreach (Verification v in verifications.OrderBy(v => v.On))
        {
            if (open is { } span && v.On <= span.To.AddDays(1))
            {
                open = (span.From, v.ValidUntil > span.To ? v.ValidUntil : span.To);
                continue;
            }

            if (open is { } done)
            {
                yield return done;
            }

            open = (v.On, v.ValidUntil);
        }

        if (open is { } last)
        {
            yield return last;
        }
    }

    private static DateOnly DayOf(RecordedReading r) => r.Reading.ReadOn ?? DateOnly.FromDateTime(r.RecordedAtUtc.ToLocalTime());
}

/// <summary>One instrument's year.</summary>
public sealed record InstrumentYear(string Name, IReadOnlyList<(DateOnly Day, int Count)> Days, IReadOnlyList<(DateOnly From, DateOnly To)> Verified);
