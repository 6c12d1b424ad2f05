using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Web.Page;

namespace Meltwise.Web.Bench;

/// <summary>A line of the latest readings: one reading, or several that were repeated on one coupon.</summary>
/// <param name="Readings">The readings of the line, newest first.</param>
internal sealed record LatestLine(IReadOnlyList<RecordedReading> Readings)
{
    /// <summary>The newest reading of the line.</summary>
    public RecordedReading Newest => Readings[0];

    /// <summary>The coupon.</summary>
    public CouponKey Coupon => Newest.Reading.Coupon;

    /// <summary>How many readings it stands for.</summary>
    public int Count => Readings.Count;

    /// <summary>Their unit.</summary>
    public string Unit => Newest.Reading.Typed.Unit;

    /// <summary>The figure as typed, or the mean with as many decimals.</summary>
    public string Value(Written written)
    {
        ArgumentNullException.ThrowIfNull(written);
        return Count == 1
            ? written.Typed(Newest.Reading.Typed)
            : written.Number(Readings.Average(r => r.Reading.Typed.Value), Written.DecimalsOf(Newest.Reading.Typed.Text));
    }

    /// <summary>Gathers repeated readings that follow each other; a corrected reading and a bound stand alone, so that both stay visible.</summary>
    public static IEnumerable<LatestLine> Of(IEnumerable<RecordedReading> newestFirst)
    {
        List<RecordedReading> open = [];
        foreach (RecordedReading reading in newestFirst)
        {
            if (open.Count > 0 && !Repeats(open[^1], reading))
            {
                yield return new([.. open]);
                open.Clear();
            }

            open.Add(reading);
        }

        if (open.Count > 0)
        {
            yield return new([.. open]);
        }
    }

    private static bool Repeats(RecordedReading one, RecordedReading other) =>
        one.Reading.Coupon == other.Reading.Coupon && one.Reading.Property == other.Reading.Property && one.Reading.Typed.Unit == other.Reading.Typed.Unit && one.Reading.ReadOn == other.Reading.ReadOn
        && one.CorrectedFrom is null && other.CorrectedFrom is null && one.Reading.Typed.Censoring == Censoring.None && other.Reading.Typed.Censoring == Censoring.None;
}
