using Meltwise.Statistics.Resampling;

namespace Meltwise.Casework.Planning;

/// <summary>Spreads coupons over furnace loads, positions, hardness order and breaking order by seeded permuted blocks.</summary>
/// <remarks>
/// <para><b>Method.</b> Every heat's coupons are dealt to the loads in turn from a random first load, the same for both sides: equal lots meet in equal numbers in every load, and no load differs from another by more than one coupon of a heat.
/// Positions and orders are permuted in blocks that hold both sides in their proportion (2 and 2 where the sides are equal), so a drift over the
/// furnace, the session or the day falls on both sides alike.</para>
/// <para><b>Temper ladder.</b> Within each load a heat's coupons go to the levels in turn, so every level has equal numbers of both sides.</para>
/// <para><b>Refusals.</b> More coupons than the loads hold; a load that would hold one side only, for then side and load cannot be told apart.</para>
/// <para><b>Source.</b> [MontgomeryDesign], randomised complete blocks; permuted blocks [ZelenPermuted1974].</para>
/// </remarks>
public static class Allocating
{
    /// <summary>Makes the allocation.</summary>
    /// <exception cref="AllocationRefusedException">The plan is confounded or does not fit; the message says what to change.</exception>
    public static Allocation Of(AllocationRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        Require(request);
        RandomStream random = new(request.Seed, 1);
        List<Slot> slots = Deal(request, ref random);
        IReadOnlyList<string> codes = BlindCodes.Draw(slots.Count, request.Seed);

        Slot[] placed = [.. Enumerable.Range(1, request.Loads).SelectMany(load => Blocks([.. slots.Where(s => s.Load == load)], ref random))];
        int[] hardness = Order(placed, ref random), breaking = Order(placed, ref random);
        int[] next = new int[request.Loads + 1];
        AllocatedCoupon[] coupons = [.. placed.Select((s, i) =>
            new AllocatedCoupon(codes[i], s.Heat.Heat, s.Heat.IsCandidate, s.Blank, s.Load, ++next[s.Load], hardness[i], breaking[i], s.Level))];
        return new(coupons, request.Seed, "Seeded permuted blocks; heats dealt to loads in turn, positions and orders permuted in blocks of both sides.",
            BlindCodes.KeyDigest(coupons), Notes(request, coupons));
    }

    /// <summary>Why the sides cannot be told from a block such as load, session or operator; null when they can.</summary>
    /// <param name="block">What the block is, as a reader knows it.</param>
    /// <param name="coupons">Side and block of every coupon.</param>
    public static string? Confounded(string block, IReadOnlyList<(bool IsCandidate, string Block)> coupons)
    {
        ArgumentNullException.ThrowIfNull(coupons);
        string[] oneSided = [.. coupons.GroupBy(c => c.Block).Where(g => g.All(c => c.IsCandidate) || g.All(c => !c.IsCandidate)).Select(g => g.Key)];
        int blocks = coupons.Select(c => c.Block).Distinct().Count();
        return oneSided.Length == blocks
            ? $"No {block} holds coupons of both sides, so a difference between the sides cannot be told from a difference between the {block}s. Put both sides into at least one {block}."
            : null;
    }

    private sealed record Slot(AllocatedHeat Heat, int Blank, int Load, int? Level = null);

    private static List<Slot> Deal(AllocationRequest request, ref RandomStream random)
    {
        List<Slot> slots = [];
        int[] filled = new int[request.Loads];
        int start = random.Index(request.Loads);
        int[] turn = [start, start];
        foreach (AllocatedHeat heat in request.Heats)
        {
            int[] blanks = [.. Enumerable.Range(1, heat.Coupons)];
            Shuffle(blanks, ref random);
            int side = heat.IsCandidate ? 0 : 1;
            foreach (int blank in blanks)
            {
                while (filled[turn[side]] >= request.Capacity) turn[side] = (turn[side] + 1) % request.Loads;
                slots.Add(new(heat, blank, turn[side] + 1));
                filled[turn[side]]++;
                turn[side] = (turn[side] + 1) % request.Loads;
            }
        }
        return request.Levels == 1 ? slots : [.. slots.GroupBy(s => s.Heat).SelectMany(heat => heat.OrderBy(s => s.Load).Select((s, i) => s with { Level = i % request.Levels + 1 }))];
    }

    private static int[] Order(Slot[] placed, ref RandomStream random)
    {
        Slot[] ordered = Blocks(placed, ref random);
        int[] order = new int[placed.Length];
        for (int i = 0; i < ordered.Length; i++) order[Array.IndexOf(placed, ordered[i])] = i + 1;
        return order;
    }

    /// <summary>A random order in which every stretch of four holds both sides as evenly as their numbers allow.</summary>
    private static Slot[] Blocks(Slot[] slots, ref RandomStream random)
    {
        Slot[] candidate = [.. slots.Where(s => s.Heat.IsCandidate)], reference = [.. slots.Where(s => !s.Heat.IsCandidate)];
        Shuffle(candidate, ref random);
        Shuffle(reference, ref random);
        List<Slot> ordered = [];
        int c = 0, r = 0;
        while (ordered.Count < slots.Length)
        {
            int size = Math.Min(4, slots.Length - ordered.Count), left = slots.Length - ordered.Count;
            int fromCandidate = (int)Math.Round((double)size * (candidate.Length - c) / left, MidpointRounding.AwayFromZero);
            Slot[] block = [.. candidate.Skip(c).Take(fromCandidate), .. reference.Skip(r).Take(size - fromCandidate)];
            (c, r) = (c + fromCandidate, r + size - fromCandidate);
            Shuffle(block, ref random);
            ordered.AddRange(block);
        }
        return [.. ordered];
    }

    private static void Shuffle<T>(T[] items, ref RandomStream random)
    {
        for (int i = items.Length - 1; i > 0; i--)
        {
            int j = random.Index(i + 1);
            (items[i], items[j]) = (items[j], items[i]);
        }
    }

    private static void Require(AllocationRequest request)
    {
        if (request.Loads < 1 || request.Capacity < 2)
            throw new AllocationRefusedException("request", $"{request.Loads} loads of {request.Capacity} coupons: at least one load of two coupons is needed.");
        if (request.Heats.Any(h => h.Coupons < 1))
            throw new AllocationRefusedException("request", "Every heat of the plan needs at least one coupon.");
        int candidate = request.Heats.Where(h => h.IsCandidate).Sum(h => h.Coupons), reference = request.Heats.Where(h => !h.IsCandidate).Sum(h => h.Coupons);
        if (candidate == 0 || reference == 0)
            throw new AllocationRefusedException("request", $"A comparison needs coupons on both sides; the plan has {candidate} of the candidate and {reference} of the reference.");
        if (request.Levels < 1 || request.Heats.Any(h => h.Coupons % request.Levels != 0))
            throw new AllocationRefusedException("request", $"The coupons of a heat do not divide into {request.Levels} levels of a temper ladder.");
        if (candidate + reference > request.Loads * request.Capacity)
            throw new AllocationRefusedException("capacity", $"{candidate + reference} coupons do not fit into {request.Loads} loads of {request.Capacity}. Add a load, or take fewer coupons.");
        if (Math.Min(candidate, reference) < request.Loads)
            throw new AllocationRefusedException("confounded-loads", $"With {request.Loads} loads and {Math.Min(candidate, reference)} coupons on one side, at least one load would hold one side only, and side and load could not be told apart there. Use {Math.Min(candidate, reference)} loads at most.");
        if (candidate + reference > 500)
            throw new AllocationRefusedException("request", $"{candidate + reference} coupons: at most 500 can be coded in one allocation. Split the enquiry.");
    }

    private static List<string> Notes(AllocationRequest request, AllocatedCoupon[] coupons)
    {
        List<string> notes = [$"Seed {request.Seed}. Engrave the code at both ends, so that halves stay identified; seal the key until the analysis is locked."];
        if (request.Levels > 1) notes.Add($"Temper ladder of {request.Levels} levels: the coupons of every heat are dealt evenly to the levels within each furnace load. Temper both lots of a level together.");
        if (request.Loads == 1) notes.Add("One load: the difference between the sides is free of the load, but holds for this load's treatment only.");
        foreach (IGrouping<int, AllocatedCoupon> load in coupons.GroupBy(c => c.Load))
        {
            int own = load.Count(c => c.IsCandidate), other = load.Count() - own;
            if (Math.Abs(own - other) > 1) notes.Add($"Load {load.Key} holds {own} and {other} coupons of the two sides: equal numbers would compare better.");
        }
        return notes;
    }
}
