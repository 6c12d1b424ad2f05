namespace Meltwise.Casework.Planning;

/// <summary>What is to be spread over furnace loads, positions and the order of breaking.</summary>
public sealed record AllocationRequest
{
    /// <summary>The heats and their coupons, spares included.</summary>
    public required IReadOnlyList<AllocatedHeat> Heats { get; init; }

    /// <summary>Furnace loads.</summary>
    public required int Loads { get; init; }

    /// <summary>Coupons that fit into one load.</summary>
    public required int Capacity { get; init; }

    /// <summary>Levels of a temper ladder over which every heat's coupons are dealt evenly; 1 without one.</summary>
    public int Levels { get; init; } = 1;

    /// <summary>Seed; one seed gives one allocation.</summary>
    public required long Seed { get; init; }
}

/// <summary>A heat in the plan.</summary>
/// <param name="Heat">Its name.</param>
/// <param name="IsCandidate">Which side it is on.</param>
/// <param name="Coupons">Number of coupons.</param>
public sealed record AllocatedHeat(string Heat, bool IsCandidate, int Coupons);

/// <summary>One coupon of the allocation.</summary>
/// <param name="Code">Blind code, engraved at both ends.</param>
/// <param name="Heat">Its heat; sealed in the key until the analysis is locked.</param>
/// <param name="IsCandidate">Its side; sealed likewise.</param>
/// <param name="Blank">Number of the blank within its heat, for the cutting sketch.</param>
/// <param name="Load">Furnace load, from 1.</param>
/// <param name="Position">Position in the load, from 1.</param>
/// <param name="HardnessOrder">Order of the hardness readings, from 1.</param>
/// <param name="BreakOrder">Order of breaking, from 1.</param>
/// <param name="Level">Level of the temper ladder, from 1; null without one.</param>
public sealed record AllocatedCoupon(string Code, string Heat, bool IsCandidate, int Blank, int Load, int Position, int HardnessOrder, int BreakOrder, int? Level = null);

/// <summary>A finished allocation.</summary>
/// <param name="Coupons">All coupons by load and position.</param>
/// <param name="Seed">Seed.</param>
/// <param name="Method">How it was made, in words.</param>
/// <param name="KeyDigest">SHA-256 of the sealed key, so that a later look can prove that it was not changed.</param>
/// <param name="Notes">What a reader must know.</param>
public sealed record Allocation(IReadOnlyList<AllocatedCoupon> Coupons, long Seed, string Method, string KeyDigest, IReadOnlyList<string> Notes)
{
    /// <summary>The bench sheet: codes only, in the order of breaking, so that nobody at the machine knows whose coupon it is.</summary>
    public IReadOnlyList<AllocatedCoupon> InBreakOrder => [.. Coupons.OrderBy(c => c.BreakOrder)];

    /// <summary>The cutting sketch list: blanks of each heat in order with the code to engrave.</summary>
    public IReadOnlyList<AllocatedCoupon> InCuttingOrder => [.. Coupons.OrderBy(c => c.Heat, StringComparer.Ordinal).ThenBy(c => c.Blank)];
}

/// <summary>The plan cannot tell the lots from something else, or does not fit; the message names the reason and the way out.</summary>
public sealed class AllocationRefusedException(string reason, string message) : Exception(message)
{
    /// <summary><c>confounded-loads</c>, <c>capacity</c> or <c>request</c>.</summary>
    public string Reason { get; } = reason;
}
