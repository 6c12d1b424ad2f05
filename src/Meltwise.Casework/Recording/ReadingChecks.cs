using System.Globalization;
using Meltwise.Casework.Intake;
using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>The checks a reading meets at once: figure and unit, limits of belief, slip of unit and far-out figures by the bench's own history, range and verification of the instrument, spread of the hardness.</summary>
/// <remarks>Records are read once and kept, so that a series is looked at without a query a cell; use a new one after a change.</remarks>
internal sealed class ReadingChecks(IBench bench, ReadingHistory history)
{
    // SD of one coupon's indents above which something is wrong with the surface or the seating (handbook: common practice).
    private const double WideHrc = 0.5;

    // Energy should be at least so many times the resolution of the pendulum (ASTM E23 annex A2, from memory).
    private const double LeastResolutions = 25;

    private readonly Dictionary<string, (ILookup<CouponKey, Reading> Readings, Dictionary<CouponKey, CouponRow> Rows)> _heats = new(StringComparer.Ordinal);
    private readonly Lazy<ILookup<string, Verification>> _verifications = new(() => bench.Verifications().ToLookup(v => v.Instrument, StringComparer.Ordinal));
    private readonly Lazy<IReadOnlyList<Instrument>> _instruments = new(bench.Instruments);

    /// <summary>The reading that the typed text means, or why it is none.</summary>
    public Outcome<Reading> Parse(TypedReading typed, DateTime nowUtc)
    {
        if (string.IsNullOrWhiteSpace(typed.Text)) return Outcome<Reading>.Refused("Nothing was typed; expected a figure.");
        if (!TypedFigure.TryRead(typed.Text, DecimalSign.Point, out Figure figure, out string expected)) return Outcome<Reading>.Refused($"“{typed.Text}” is not a number; expected {expected}.");
        if (figure.Unit.Any(char.IsAsciiDigit)) return Outcome<Reading>.Refused($"“{typed.Text}” is not a number; expected a figure, or > or < with a figure, and its unit if it is not {typed.Unit}.");
        Property? property = PropertyTable.Find(typed.Property);
        string said = figure.Unit.Length > 0 ? figure.Unit : typed.Unit;
        string? unit = property is null ? said : property.FindUnit(said)?.Name;
        if (unit is null) return Outcome<Reading>.Refused($"The unit {said} was given; {property!.Name} is read in {string.Join(" or ", property.Units.Select(u => u.Name))}.");
        if (property is not null && property.Convert(figure.Value, unit, property.StoredUnit.Name) is var stored && !(stored > property.LowestBelievable && stored <= property.HighestBelievable))
            return Outcome<Reading>.Refused(string.Create(CultureInfo.InvariantCulture, $"{figure.Text} {unit} is no {property.Name}: expected above {Math.Max(0, property.LowestBelievable):0.##} and at most {property.HighestBelievable:0.##} {property.StoredUnit.Name}."));
        if (bench.Coupons(typed.Coupon.Heat).All(c => c.Key != typed.Coupon)) return Outcome<Reading>.Refused($"Coupon {typed.Coupon} is not on this bench. Record it first.");
        if (typed.Instrument is not null && Named(typed.Instrument) is null) return Outcome<Reading>.Refused($"Instrument {typed.Instrument} is not on this bench. Record it first.");
        bool bound = typed.State == CouponState.NotBroken && figure.Censoring == Censoring.None;
        CensoredValue value = new(figure.Value, unit, bound ? Censoring.Above : figure.Censoring, bound ? ">" + figure.Text : figure.Text);
        return Outcome<Reading>.Stored(new Reading(
            typed.Coupon, property?.Name ?? typed.Property, typed.Number, value, typed.Instrument, typed.Session, typed.TestTemperatureK, nowUtc, DateOnly.FromDateTime(nowUtc.ToLocalTime()), typed.State, typed.Cause));
    }

    /// <summary>Reads what history expects before the reading is stored, so that a slip does not widen the band by which it is judged.</summary>
    public void Expect(TypedReading typed)
    {
        if (PropertyTable.Find(typed.Property) is not { } property || RowOf(typed.Coupon) is not { } own) return;
        history.Band(bench, property, own.Geometry, own.Orientation);
        if (property.Units.Count > 1) history.Scale(bench, property, own);
    }

    /// <summary>What is doubtful about a reading that is stored.</summary>
    public IEnumerable<ReadingDoubt> Of(Reading reading)
    {
        Property? property = PropertyTable.Find(reading.Property);
        Instrument? instrument = Named(reading.Instrument);
        bool asks = reading.Cause != ReadingDoubt.Confirmed && reading.State is CouponState.Valid or CouponState.NotBroken && reading.Typed.Censoring == Censoring.None;
        ReadingDoubt? range = instrument is null || property is null ? null : Range(reading, property, instrument);
        if (range is not null && (asks || !range.Asks)) yield return range;
        if (instrument is not null && Verified(reading, instrument) is { } verified) yield return verified;
        if (property == PropertyTable.Hardness && Indents(reading) is { } wide) yield return wide;
        if (property is not null && asks && range?.Kind != DoubtKind.AboveRange && (Slip(reading, property) ?? FarOut(reading, property)) is { } unlikely) yield return unlikely;
    }

    /// <summary>Name of an enquiry that has this coupon's readings locked, or null.</summary>
    public string? LockedBy(CouponKey coupon) => bench.Enquiries().FirstOrDefault(e => e.Key?.ReadingsLockedAtUtc is not null
        && (e.Coupons.Count > 0 ? e.Coupons.Contains(coupon) : e.ReferenceHeats.Concat(e.CandidateHeats).Contains(coupon.Heat)))?.Name;

    private ReadingDoubt? Slip(Reading reading, Property property)
    {
        if (property.Units.Count < 2 || RowOf(reading.Coupon) is not { } own || history.Scale(bench, property, own) is not { } scale) return null;
        return UnitSlips.OfReading(reading.Typed, property, HistoryScale.MeanHrc(own), scale) is { } slip && property.FindUnit(slip.LikelyUnit) is { } other
            ? new(DoubtKind.UnitSlip, $"{char.ToUpperInvariant(slip.Words[0])}{slip.Words[1..]} Which scale was read?", other, reading.Typed.Value * other.Factor)
            : null;
    }

    private ReadingDoubt? FarOut(Reading reading, Property property)
    {
        if (RowOf(reading.Coupon) is not { } own || history.Band(bench, property, own.Geometry, own.Orientation) is not { } band || property.FindUnit(reading.Typed.Unit) is not { } said) return null;
        if (!band.Doubts(reading.Typed.Value * said.Factor)) return null;
        string stored = property.StoredUnit.Name;
        string seen = string.Create(CultureInfo.InvariantCulture, $"{reading.Typed} lies outside what {band.Coupons} coupons of this kind have given: {band.Low:G3} to {band.High:G3} {stored} in 95 of 100.");
        return property.Units.FirstOrDefault(u => u.Name != said.Name && band.Holds(reading.Typed.Value * u.Factor)) is { } other
            ? new(DoubtKind.UnitSlip, string.Create(CultureInfo.InvariantCulture, $"{seen} Read in {other.Name} it would be {reading.Typed.Value * other.Factor:G3} {stored}, well inside. Which scale was read?"), other, reading.Typed.Value * other.Factor)
            : new(DoubtKind.FarOut, seen + " Was it read and typed right?");
    }

    private ReadingDoubt? Indents(Reading reading)
    {
        double[] indents = [.. ReadingsOf(reading.Coupon).Where(r => r.Property == reading.Property && r.State == CouponState.Valid).Select(r => r.Typed.Value)];
        return indents.Length >= 2 && Sd(indents) is var sd and > WideHrc
            ? new(DoubtKind.WideIndents, string.Create(CultureInfo.InvariantCulture, $"The {indents.Length} hardness readings of this coupon scatter by {sd:0.00} HRC (more than {WideHrc}): seating, surface, spacing, or a soft skin?"), StandardDeviation: sd)
            : null;
    }

    private static ReadingDoubt? Range(Reading reading, Property property, Instrument instrument)
    {
        if (instrument.Property != reading.Property || property.FindUnit(instrument.Unit) is null) return null;
        double shown = property.Convert(reading.Typed.Value, reading.Typed.Unit, instrument.Unit);
        if (instrument.UsableHigh is { } high && shown > high && reading.Typed.Censoring == Censoring.None)
            return new(DoubtKind.AboveRange, string.Create(CultureInfo.InvariantCulture, $"{reading.Typed} lies above the usable range of {instrument.Name} ({high:0.##} {instrument.Unit}); it is a lower bound only."));
        if (instrument.UsableLow is { } low && shown < low)
            return new(DoubtKind.BelowRange, string.Create(CultureInfo.InvariantCulture, $"{reading.Typed} lies below the usable range of {instrument.Name} ({low:0.##} {instrument.Unit})."));
        return property == PropertyTable.ImpactEnergy && instrument.Resolution is { } step && shown < LeastResolutions * step
            ? new(DoubtKind.CoarseScale, string.Create(CultureInfo.InvariantCulture, $"{reading.Typed} is less than {LeastResolutions:0} steps of {instrument.Name} ({step:0.##} {instrument.Unit}); a pendulum of smaller capacity would tell more."))
            : null;
    }

    private ReadingDoubt? Verified(Reading reading, Instrument instrument)
    {
        DateOnly on = reading.ReadOn ?? DateOnly.FromDateTime(DateTime.UtcNow);
        VerificationStanding standing = VerificationStanding.On(_verifications.Value[instrument.Name], on);
        return standing.State switch
        {
            InstrumentState.NoRecord => new(DoubtKind.NoVerification, $"{instrument.Name} has no verification on this bench."),
            InstrumentState.Verified => null,
            InstrumentState.DoubtedBack => new(DoubtKind.NotVerified, $"{instrument.Name} is in doubt: {standing.Why}."),
            _ => new(DoubtKind.NotVerified, string.Create(CultureInfo.InvariantCulture, $"{instrument.Name} was not in verification on {on:yyyy-MM-dd}: {standing.Why}.")),
        };
    }

    private Instrument? Named(string? name) => name is null ? null : _instruments.Value.FirstOrDefault(i => i.Name == name);

    private IEnumerable<Reading> ReadingsOf(CouponKey coupon) => OfHeat(coupon.Heat).Readings[coupon];

    private CouponRow? RowOf(CouponKey coupon) => OfHeat(coupon.Heat).Rows.GetValueOrDefault(coupon);

    private (ILookup<CouponKey, Reading> Readings, Dictionary<CouponKey, CouponRow> Rows) OfHeat(string heat)
    {
        if (_heats.TryGetValue(heat, out (ILookup<CouponKey, Reading>, Dictionary<CouponKey, CouponRow>) known)) return known;
        return _heats[heat] = (
            bench.Readings(new CouponKey(heat, "")).ToLookup(r => r.Coupon),
            bench.CouponTable(new([heat])).Rows.ToDictionary(r => new CouponKey(r.Heat, r.Coupon)));
    }

    private static double Sd(double[] values)
    {
        double mean = values.Average();
        return Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (values.Length - 1));
    }
}
