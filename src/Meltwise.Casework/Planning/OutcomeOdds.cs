using Meltwise.Casework.Judging;
using Meltwise.Metallurgy.Oxides;
using Meltwise.Statistics.Resampling;

namespace Meltwise.Casework.Planning;

/// <summary>Odds of every outcome against coupon, heat and load numbers and truth, by simulating the locked rule itself.</summary>
/// <remarks>
/// <para><b>Method.</b> Steps 3 to 5 of the verdict on simulated normal coupons, with its decision table: own or lent scatter, furnace loads as blocks, equal hardness, sources,
/// margins as ratio, difference, in the unit or in hardness, a planned extension with the error rate split, flaws that govern coupons. What the bench knows only within
/// its sampling error is drawn anew in each replicate. Replicates run in fixed blocks with random streams of their own
/// and integer counts, so the table depends on the seed and not on the number of threads.</para>
/// <para><b>Several primary properties.</b> Each is judged by itself on readings that correlate on one coupon, and all together as the verdict does: agreement takes each of them, uncorrected [Berger1982]; a difference in at least one takes [Holm1979].</para>
/// <para><b>Limits.</b> Equal numbers on both sides, no censoring, no exclusion; firmness variants are not simulated. At equal hardness between sources the difference of hardness is that of the new heats.</para>
/// <para><b>Check.</b> For one heat the chance of yes has a closed normal-theory answer with equal variances, printed beside it.</para>
/// </remarks>
public static class OutcomeOdds
{
    private const int Block = 500;
    private const long FlawSeed = 0x5EED;

    /// <summary>The table.</summary>
    /// <exception cref="PlanFaultException">A number of the request makes no plan; the message says which.</exception>
    /// <exception cref="PlanRefusedException">No plan of the request can answer; the message says why.</exception>
    public static PlanTable Of(PlanRequest request, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(request);
        PlannedProperties properties = PlannedProperties.Of(request);
        PlanChecks.Require(request, properties);
        (IReadOnlyList<PlanDesign> designs, IReadOnlyList<RefusedPlan> refused) = PlanDesign.All(request);
        if (designs.Count == 0) throw new PlanRefusedException(refused[0].Reason, refused[0].Why);

        double wanted = PlanTheory.WantedAt(request);
        double[] truths = [.. request.Truths, .. request.Truths.Contains(wanted) ? Array.Empty<double>() : [wanted]];
        Simulation simulation = new(properties.Requests.Count, [designs, .. properties.Requests.Skip(1).Select(r => PlanDesign.All(r).Designs)], truths);
        bool flawed = request.Flaws is not null;
        long[] counts = simulation.Run(request, flawed ? Share(progress, 0) : progress, cancel);
        long[]? sound = flawed ? simulation.Run(request with { Flaws = null }, Share(progress, 0.5), cancel) : null;

        PlanRows rows = new(request, properties, simulation.Designs);
        List<PlanRow> all = [];
        for (int d = 0; d < designs.Count; d++)
            for (int t = 0; t < truths.Length; t++)
            {
                int at = (d * truths.Length + t) * simulation.Width;
                all.Add(rows.Of(d, truths[t], counts.AsSpan(at, simulation.Width), sound is null ? default : sound.AsSpan(at, simulation.Width)));
            }
        PlanRow[] asked = [.. all.Where((_, i) => i % truths.Length < request.Truths.Count)];
        return new()
        {
            Table = asked,
            Replicates = request.Replicates,
            Seed = request.Seed,
            Alpha = request.Alpha,
            Question = request.Question.Code(),
            WantedAt = wanted,
            Cheapest = Cheapest(request, [.. all.Where(r => r.TrueRatio.Equals(wanted))]),
            CannotAnswer = rows.CannotAnswer(asked),
            Refused = refused,
            LowCoupons = LowCoupons(request, designs),
            Notes = PlanNotes.Of(request, properties, designs),
        };
    }

    private sealed record Simulation(int Properties, IReadOnlyList<IReadOnlyList<PlanDesign>> Designs, double[] Truths)
    {
        public int Width { get; } = SimulatedEnquiry.Width(Properties);

        public long[] Run(PlanRequest r, IProgress<double>? progress, CancellationToken cancel)
        {
            int blocks = (r.Replicates + Block - 1) / Block, done = 0;
            long[] total = new long[Designs[0].Count * Truths.Length * Width];
            PlannedProperties properties = PlannedProperties.Of(r);
            Parallel.For(0, blocks, new ParallelOptions { CancellationToken = cancel },
                () => (Enquiry: new SimulatedEnquiry(r, properties, Designs, Truths), Counts: new long[total.Length]),
                (block, _, local) =>
                {
                    RandomStream random = new(r.Seed, block), ofFlaws = new(r.Seed ^ FlawSeed, block);
                    int replicates = Math.Min(Block, r.Replicates - block * Block);
                    for (int i = 0; i < replicates; i++) local.Enquiry.Replicate(ref random, ref ofFlaws, local.Counts);
                    progress?.Report(Interlocked.Increment(ref done) / (double)blocks);
                    return local;
                },
                local =>
                {
                    lock (total)
                        for (int i = 0; i < total.Length; i++) total[i] += local.Counts[i];
                });
            return total;
        }
    }

    private static Progress<double>? Share(IProgress<double>? whole, double from) => whole is null ? null : new(p => whole.Report(from + p / 2));

    /// <summary>Plans for different estimands answer different questions, so each estimand has a cheapest plan of its own.</summary>
    private static List<CheapestPlan> Cheapest(PlanRequest r, IReadOnlyList<PlanRow> rows) =>
    [
        .. rows.GroupBy(row => row.Estimand).Select(g => g.Where(row => row.Answers["yes"] >= r.WantedChance).OrderBy(row => row.Cost).ThenBy(row => row.Coupons).FirstOrDefault()).OfType<PlanRow>()
            .Select(row => new CheapestPlan(row.Estimand, row.Coupons, row.Heats, row.Loads, row.TrueRatio, row.Answers["yes"], row.YesStandardError, row.Cost, r.Ladder?.Levels)),
    ];

    private static List<LowCouponChance> LowCoupons(PlanRequest r, IReadOnlyList<PlanDesign> designs) => r.Flaws is not { } flaws ? [] :
    [
        .. designs.Select(d => d.Groups * d.Coupons).Distinct().Order().Select(n => new LowCouponChance(n,
            FlawGovernedCoupons.Of(flaws.InReference, n).AtLeastOne, FlawGovernedCoupons.Of(flaws.InCandidate, n).AtLeastOne, FlawGovernedCoupons.Of(flaws.InReference + flaws.InCandidate, n).AtLeastOne)),
    ];
}
