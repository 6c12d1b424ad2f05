using System.Globalization;
using Meltwise.Casework.Intake;
using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>The checks a reading meets at once: figure and unit, limits of belief, slip of unit by the bench's own history, range and verification of the instrument, spread of the hardness.</summary>
internal sealed class ReadingChecks(IBench bench)
{
    // SD of one coupon's indents above which something is wrong with the surface or the seating (handbook: common practice).
    private const double WideHrc = 0.5;

    // Energy should be at least so many times the resolution of the pendulum (ASTM E23 annex A2, from memory).
    private const double LeastResolutions = 25;

    /// <summary>The reading that the typed text means, or why it is none.</summary>
    public Outcome<Reading> Parse(TypedReading typed, DateTime nowUtc)
    {
        if (!TypedFigure.TryRead(typed.Text, DecimalSign.Point, out Figure figure, out string expected)) return Outcome<Reading>.Refused($"\"{typed.Text}\" was typed; expected {expected}.");
        Property? property = PropertyTable.Find(typed.Property);
        string said = figure.Unit.Length > 0 ? figure.Unit : typed.Unit;
        string? unit = property is null ? said : property.FindUnit(said)?.Name;
        if (unit is null) return Outcome<Reading>.Refused($"The unit {said} was given; {property!.Name} is read in {string.Join(" or ", property.Units.Select(u => u.Name))}.");
        if (property is not null && property.Convert(figure.Value, unit, property.StoredUnit.Name) is var stored && !(stored > property.LowestBelievable && stored <= property.HighestBelievable))
            return Outcome<Reading>.Refused(string.Create(CultureInfo.InvariantCulture, $"{figure.Text} {unit} is no {property.Name}: expected above {Math.Max(0, property.LowestBelievable):0.##} and at most {property.HighestBelievable:0.##} {property.StoredUnit.Name}."));
        if (bench.Coupons(typed.Coupon.Heat).All(c => c.Key != typed.Coupon)) return Outcome<Reading>.Refused($"Coupon {typed.Coupon} is not on this bench. Record it first.");
        Instrument? instrument = Named(typed.Instrument);
        if (typed.Instrument is not null && instrument is null) return Outcome<Reading>.Refused($"Instrument {typed.Instrument} is not on this bench. Record it first.");
        bool bound = typed.State == CouponState.NotBroken && figure.Censoring == Censoring.None;
        CensoredValue value = new(figure.Value, unit, bound ? Censoring.Above : figure.Censoring, figure.Text);
        return Outcome<Reading>.Stored(new Reading(
            typed.Coupon, property?.Name ?? typed.Property, typed.Number, value, typed.Instrument, typed.Session, typed.TestTemperatureK, nowUtc, DateOnly.FromDateTime(nowUtc.ToLocalTime()), typed.State, typed.Cause));
    }

    /// <summary>What is doubtful about a reading that is stored.</summary>
    public IEnumerable<Finding> Of(Reading reading)
    {
        Instrument? instrument = Named(reading.Instrument);
        if (instrument is not null) foreach (Finding finding in OfInstrument(reading, instrument)) yield return finding;
        if (PropertyTable.Find(reading.Property) is not { } property) yield break;
        if (property == PropertyTable.Hardness)
        {
            double[] indents = [.. bench.Readings(reading.Coupon).Where(r => r.Property == property.Name && r.State == CouponState.Valid).Select(r => r.Typed.Value)];
            if (indents.Length >= 2 && Sd(indents) is var sd and > WideHrc)
                yield return Finding.Warning(string.Create(CultureInfo.InvariantCulture, $"The {indents.Length} hardness readings of {reading.Coupon} scatter by {sd:0.00} HRC (more than {WideHrc}): seating, surface, spacing, or a soft skin?"));
        }
        else if (property.Units.Count > 1 && Slip(reading, property) is { } slip)
        {
            yield return Finding.Warning(slip.Words);
        }
    }

    /// <summary>Name of an enquiry that has this coupon's readings locked, or null.</summary>
    public string? LockedBy(CouponKey coupon) => bench.Enquiries().FirstOrDefault(e => e.Key?.ReadingsLockedAtUtc is not null
        && (e.Coupons.Count > 0 ? e.Coupons.Contains(coupon) : e.ReferenceHeats.Concat(e.CandidateHeats).Contains(coupon.Heat)))?.Name;

    private UnitSuspicion? Slip(Reading reading, Property property)
    {
        // The steel's own history: heats of the same grade, all heats where the grade is unknown.
        IReadOnlyList<Heat> heats = bench.Heats();
        string? grade = heats.FirstOrDefault(h => h.Name == reading.Coupon.Heat)?.Grade;
        CouponTable history = bench.CouponTable(new(grade is null ? null : [.. heats.Where(h => h.Grade == grade).Select(h => h.Name)], Property: property.Name));
        CouponRow? own = history.Rows.FirstOrDefault(r => r.Heat == reading.Coupon.Heat && r.Coupon == reading.Coupon.Coupon);
        return own is null ? null : UnitSlips.OfReading(reading.Typed, property, HistoryScale.MeanHrc(own), UnitSlips.OfOneKind(own, history));
    }

    private IEnumerable<Finding> OfInstrument(Reading reading, Instrument instrument)
    {
        if (PropertyTable.Find(instrument.Property) is { } property && property.Name == reading.Property && property.FindUnit(instrument.Unit) is not null)
        {
            double shown = property.Convert(reading.Typed.Value, reading.Typed.Unit, instrument.Unit);
            if (instrument.UsableHigh is { } high && shown > high && reading.Typed.Censoring == Censoring.None)
                yield return Finding.Warning(string.Create(CultureInfo.InvariantCulture, $"{reading.Typed} lies above the usable range of {instrument.Name} ({high:0.##} {instrument.Unit}); it is a lower bound only. Type it with > to say so."));
            if (instrument.UsableLow is { } low && shown < low)
                yield return Finding.Warning(string.Create(CultureInfo.InvariantCulture, $"{reading.Typed} lies below the usable range of {instrument.Name} ({low:0.##} {instrument.Unit})."));
            else if (property == PropertyTable.ImpactEnergy && instrument.Resolution is { } step && shown < LeastResolutions * step)
                yield return Finding.Warning(string.Create(CultureInfo.InvariantCulture, $"{reading.Typed} is less than {LeastResolutions:0} steps of {instrument.Name} ({step:0.##} {instrument.Unit}); a pendulum of smaller capacity would tell more."));
        }
        DateOnly on = reading.ReadOn ?? DateOnly.FromDateTime(DateTime.UtcNow);
        Verification[] verifications = [.. bench.Verifications(instrument.Name).Where(v => v.On <= on)];
        if (verifications.Length == 0) yield return Finding.Note($"{instrument.Name} has no verification on this bench.");
        else if (!verifications[^1].Passed || verifications[^1].ValidUntil < on) yield return Finding.Warning(string.Create(CultureInfo.InvariantCulture, $"{instrument.Name} was not in verification on {on:yyyy-MM-dd}."));
    }

    private Instrument? Named(string? name) => name is null ? null : bench.Instruments().FirstOrDefault(i => i.Name == name);

    private static double Sd(double[] values)
    {
        double mean = values.Average();
        return Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (values.Length - 1));
    }
}
