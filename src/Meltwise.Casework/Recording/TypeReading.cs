using Meltwise.Casework.Intake;
using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>Stores a reading the moment it is typed, with the immediate checks; corrects it with a reason; takes the last step back.</summary>
/// <remarks>A doubtful reading is stored and asked about: nothing typed vanishes. Only what is no figure, or no value of the property at all, is refused.</remarks>
public sealed class TypeReading(IBench bench)
{
    private readonly ReadingChecks _checks = new(bench);

    /// <summary>Stores a new reading.</summary>
    public Outcome<Reading> Run(TypedReading typed, Hand hand)
    {
        Outcome<Reading> parsed = _checks.Parse(typed, hand.NowUtc);
        if (parsed.Value is not { } reading) return parsed;
        if (Find(typed) is { } there)
            return there.Typed == reading.Typed ? Outcome<Reading>.Stored(there) : Outcome<Reading>.Refused($"{Say(typed)} is recorded as {there.Typed}. To change it to {reading.Typed}, correct it with a reason.");
        if (_checks.LockedBy(typed.Coupon) is { } enquiry) return Outcome<Reading>.Refused($"The readings of {enquiry} are locked; {typed.Coupon} takes no new reading.");
        bench.Commit(hand.By, null, [new BenchChange.PutReading(reading)]);
        return Outcome<Reading>.Stored(reading, [.. parsed.Findings, .. _checks.Of(reading)]);
    }

    /// <summary>Corrects a reading; the old one stays in the trail.</summary>
    public Outcome<Reading> Correct(TypedReading typed, string reason, Hand hand)
    {
        if (string.IsNullOrWhiteSpace(reason)) return Outcome<Reading>.Refused($"Give the reason for changing {Say(typed)}; both figures stay readable.");
        if (Find(typed) is not { } there) return Outcome<Reading>.Refused($"{Say(typed)} has no reading to correct.");
        Outcome<Reading> parsed = _checks.Parse(typed, hand.NowUtc);
        if (parsed.Value is not { } reading) return parsed;
        reading = reading with { ReadAtUtc = there.ReadAtUtc, ReadOn = there.ReadOn };
        bench.Commit(hand.By, reason, [new BenchChange.PutReading(reading)]);
        Finding[] locked = _checks.LockedBy(typed.Coupon) is { } enquiry ? [Finding.Warning($"The readings of {enquiry} were locked; this correction is shown beside the verdict.")] : [];
        return Outcome<Reading>.Stored(reading, [.. parsed.Findings, .. locked, .. _checks.Of(reading)]);
    }

    /// <summary>Takes the last step on a reading back: a correction goes back to the figure before, a new reading is withdrawn. Both stay in the trail.</summary>
    public Outcome<Reading> Undo(CouponKey coupon, string property, int number, Hand hand)
    {
        TypedReading typed = new(coupon, property, number, "", "");
        if (Find(typed) is not { } there) return Outcome<Reading>.Refused($"{Say(typed)} has no reading to take back.");
        if (_checks.LockedBy(coupon) is { } enquiry) return Outcome<Reading>.Refused($"The readings of {enquiry} are locked; correct {Say(typed)} with a reason instead.");
        CensoredValue? before = bench.LatestReadings(500).FirstOrDefault(r => r.Reading.Coupon == coupon && r.Reading.Property == property && r.Reading.Number == number)?.CorrectedFrom;
        BenchChange change = before is null ? new BenchChange.WithdrawReading(coupon, property, number) : new BenchChange.PutReading(there with { Typed = before });
        bench.Commit(hand.By, "undone", [change]);
        return Outcome<Reading>.Stored(before is null ? there : there with { Typed = before });
    }

    private Reading? Find(TypedReading typed) => bench.Readings(typed.Coupon).FirstOrDefault(r => r.Property == typed.Property && r.Number == typed.Number);

    private static string Say(TypedReading typed) => $"{typed.Property} {typed.Number} of coupon {typed.Coupon}";
}
