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
                [.. verifications[i.Name].Where(v => v.Passed && v.ValidUntil >= from && v.On < to).Select(v => (v.On, v.ValidUntil))])),
        ];
        return new(from, to, today, rows);
    }

    private static DateOnly DayOf(RecordedReading r) => r.Reading.ReadOn ?? DateOnly.FromDateTime(r.RecordedAtUtc.ToLocalTime());
}

/// <summary>One instrument's year.</summary>
public sealed record InstrumentYear(string Name, IReadOnlyList<(DateOnly Day, int Count)> Days, IReadOnlyList<(DateOnly From, DateOnly To)> Verified);
