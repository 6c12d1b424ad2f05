using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>Records the custody of a heat's material: how it came, as what it was found, what is kept.</summary>
public sealed class RecordCustody(IBench bench)
{
    /// <summary>Adds the record, or corrects it with a reason.</summary>
    /// <param name="custody">The custody; unknown fields are null.</param>
    /// <param name="hand">Who.</param>
    /// <param name="received">Day of receipt, kept with the heat; null leaves what is there.</param>
    /// <param name="why">Reason, needed when something recorded is altered.</param>
    public Outcome<Custody> Run(Custody custody, Hand hand, DateOnly? received = null, string? why = null)
    {
        if (bench.Heats().FirstOrDefault(h => h.Name == custody.Heat) is not { } heat) return Outcome<Custody>.Refused($"Heat {custody.Heat} is not on this bench. Record it first.");
        DateOnly? came = received ?? heat.Received;
        if (came is { } day && custody.RetainedUntil is { } until && until < day) return Outcome<Custody>.Refused($"The material would be kept until {until:yyyy-MM-dd}, before it came on {day:yyyy-MM-dd}.");
        BenchChange[] changes = [.. came == heat.Received ? Array.Empty<BenchChange>() : [new BenchChange.PutHeat(heat with { Received = came })], new BenchChange.PutCustody(custody)];
        bench.Commit(hand.By, why, changes);
        return Outcome<Custody>.Stored(custody, custody.Retained is null ? [Finding.Note("Nothing says what is retained; a disputed result could not be tested again.")] : []);
    }
}
