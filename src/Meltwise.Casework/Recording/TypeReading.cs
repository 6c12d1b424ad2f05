using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>Stores a reading the moment it is typed, with the immediate checks; corrects it with a reason; takes the last step back.</summary>
/// <remarks>A doubtful reading is stored and asked about: nothing typed vanishes. Only what is no figure, or no value of the property at all, is refused.</remarks>
/// <param name="bench">The bench.</param>
/// <param name="history">What history expects, kept between readings; null reads it anew.</param>
public sealed class TypeReading(IBench bench, ReadingHistory? history = null)
{
    private readonly ReadingHistory _history = history ?? new();

    /// <summary>Stores a new reading.</summary>
    /// <param name="typed">What was typed.</param>
    /// <param name="hand">Who.</param>
    /// <param name="with">Changes that belong to it, such as a stage that is reached by it; stored with it or not at all.</param>
    public Outcome<Reading> Run(TypedReading typed, Hand hand, params IEnumerable<BenchChange> with)
    {
        ReadingChecks checks = new(bench, _history);
        Outcome<Reading> parsed = checks.Parse(typed, hand.NowUtc);
        if (parsed.Value is not { } reading) return parsed;
        if (Find(typed) is { } there)
            return there.Typed == reading.Typed ? Outcome<Reading>.Stored(there) : Outcome<Reading>.Refused($"{Say(typed)} is recorded as {there.Typed}. To change it to {reading.Typed}, correct it with a reason.");
        if (checks.LockedBy(typed.Coupon) is { } enquiry) return Outcome<Reading>.Refused($"The readings of {enquiry} are locked; {typed.Coupon} takes no new reading.");
        new ReadingChecks(bench, _history).Expect(typed);
        bench.Commit(hand.By, null, [new BenchChange.PutReading(reading), .. with]);
        return Outcome<Reading>.Stored(reading, [.. parsed.Findings, .. checks.Of(reading).Select(d => d.AsFinding)]);
    }

    /// <summary>Corrects a reading; the old one stays in the trail.</summary>
    public Outcome<Reading> Correct(TypedReading typed, string reason, Hand hand)
    {
        if (string.IsNullOrWhiteSpace(reason)) return Outcome<Reading>.Refused($"Give the reason for changing {Say(typed)}; both figures stay readable.");
        if (Find(typed) is not { } there) return Outcome<Reading>.Refused($"{Say(typed)} has no reading to correct.");
        ReadingChecks checks = new(bench, _history);
        Outcome<Reading> parsed = checks.Parse(typed, hand.NowUtc);
        if (parsed.Value is not { } reading) return parsed;
        reading = reading with { ReadAtUtc = there.ReadAtUtc, ReadOn = there.ReadOn };
        if (reading == there) return Outcome<Reading>.Stored(there);
        new ReadingChecks(bench, _history).Expect(typed);
        bench.Commit(hand.By, reason, [new BenchChange.PutReading(reading)]);
        Finding[] locked = checks.LockedBy(typed.Coupon) is { } enquiry ? [Finding.Warning($"The readings of {enquiry} were locked; this correction is shown beside the verdict.")] : [];
        return Outcome<Reading>.Stored(reading, [.. parsed.Findings, .. locked, .. checks.Of(reading).Select(d => d.AsFinding)]);
    }

    /// <summary>Takes the last step on a reading back: a correction goes back to the figure before, a new reading is withdrawn. Both stay in the trail.</summary>
    public Outcome<Reading> Undo(CouponKey coupon, string property, int number, Hand hand) => Back(coupon, property, number, "undone at the machine", hand, there =>
        bench.LatestReadings(500).FirstOrDefault(r => r.Reading.Coupon == coupon && r.Reading.Property == there.Property && r.Reading.Number == number)?.CorrectedFrom);

    /// <summary>Takes a reading away, because it is typed again or should never have been there; it stays in the trail.</summary>
    public Outcome<Reading> Withdraw(CouponKey coupon, string property, int number, string reason, Hand hand) => Back(coupon, property, number, reason, hand, _ => null);

    /// <summary>What is doubtful about stored readings, by reading; those without a doubt are left out.</summary>
    public IReadOnlyDictionary<Reading, IReadOnlyList<ReadingDoubt>> DoubtsOf(IEnumerable<Reading> readings)
    {
        ReadingChecks checks = new(bench, _history);
        return readings.Select(r => (Reading: r, Doubts: (IReadOnlyList<ReadingDoubt>)[.. checks.Of(r)])).Where(d => d.Doubts.Count > 0).ToDictionary(d => d.Reading, d => d.Doubts);
    }

    private Outcome<Reading> Back(CouponKey coupon, string property, int number, string reason, Hand hand, Func<Reading, CensoredValue?> before)
    {
        TypedReading typed = new(coupon, property, number, "", "");
        if (Find(typed) is not { } there) return Outcome<Reading>.Refused($"{Say(typed)} has no reading to take back.");
        if (new ReadingChecks(bench, _history).LockedBy(coupon) is { } enquiry) return Outcome<Reading>.Refused($"The readings of {enquiry} are locked; correct {Say(typed)} with a reason instead.");
        CensoredValue? was = before(there);
        BenchChange change = was is null ? new BenchChange.WithdrawReading(coupon, property, number) : new BenchChange.PutReading(there with { Typed = was });
        bench.Commit(hand.By, reason, [change]);
        return Outcome<Reading>.Stored(was is null ? there : there with { Typed = was });
    }

    private Reading? Find(TypedReading typed) => bench.Readings(typed.Coupon).FirstOrDefault(r => r.Property == typed.Property && r.Number == typed.Number);

    private static string Say(TypedReading typed) => $"{typed.Property} {typed.Number} of coupon {typed.Coupon}";
}
