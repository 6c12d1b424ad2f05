namespace Meltwise.Domain;

/// <summary>One line of the append-only history of the bench: who, when, what was, what is, why.</summary>
/// <param name="Id">Rising number.</param>
/// <param name="AtUtc">When.</param>
/// <param name="By">Who.</param>
/// <param name="Kind">Kind of record: <c>heat</c>, <c>coupon</c>, <c>reading</c>, <c>enquiry</c>, <c>intake</c>.</param>
/// <param name="Key">Which record.</param>
/// <param name="Was">The record before, as text; null when it is new.</param>
/// <param name="Became">The record after, as text; null when it was withdrawn.</param>
/// <param name="Why">The reason given.</param>
public sealed record TrailEntry(long Id, DateTime AtUtc, string By, string Kind, string Key, string? Was, string? Became, string? Why);
