using System.Globalization;
using Meltwise.Casework.Judging;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.Equivalence;
using Meltwise.Statistics.Resampling;

namespace Meltwise.Casework.Planning;

/// <summary>Odds of every outcome against coupon numbers, heat numbers and truth, by simulating the locked rule itself.</summary>
/// <remarks>
/// <para><b>Method.</b> Steps 3 to 5 of the verdict on simulated normal coupons. The bench's scatter, heat-to-heat scatter and trend are drawn anew in
/// each replicate within their sampling errors where their degrees of freedom are given. Replicates run in fixed blocks with random streams of their own
/// and integer counts, so the table depends on the seed and not on the number of threads.</para>
/// <para><b>Limits.</b> One furnace load, equal numbers, no censoring, no exclusion; firmness variants are not simulated.</para>
/// <para><b>Check.</b> For one heat the chance of agreement has a closed normal-theory answer with equal variances, printed beside it.</para>
/// </remarks>
public static class OutcomeOdds
{
    private const int Block = 500, Kinds = 9;

    /// <summary>The table.</summary>
    /// <exception cref="PlanFaultException">A number of the request makes no plan; the message says which.</exception>
    public static PlanTable Of(PlanRequest request, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(request);
        Require(request);
        long[] counts = Simulate(request, progress, cancel);
        List<PlanRow> rows = [];
        int at = 0;
        foreach (int heats in request.Heats)
            foreach (int coupons in request.Coupons)
                foreach (double truth in request.Truths)
                    rows.Add(Row(request, heats, coupons, truth, counts.AsSpan(at++ * Kinds, Kinds)));
        CheapestPlan? cheapest = Cheapest(request, rows);
        return new(rows, request.Replicates, request.Seed, request.Alpha, cheapest, CannotAnswer(request, rows), Notes(request));
    }

    private static long[] Simulate(PlanRequest r, IProgress<double>? progress, CancellationToken cancel)
    {
        int cells = r.Heats.Count * r.Coupons.Count * r.Truths.Count, blocks = (r.Replicates + Block - 1) / Block, done = 0;
        SimulatedRule rule = new(Scale(r, r.MarginLow), Scale(r, r.MarginHigh), r.Alpha, r.HigherIsBetter);
        double[] truths = [.. r.Truths.Select(t => Scale(r, t))];
        long[] total = new long[cells * Kinds];
        Parallel.For(0, blocks, new ParallelOptions { CancellationToken = cancel },
            () => (Coupons: new SimulatedCoupons(r.Heats.Max(), r.Coupons.Max()), Counts: new long[cells * Kinds], Heats: SimulatedHeats.For(r)),
            (block, _, local) =>
            {
                RandomStream random = new(r.Seed, block);
                int replicates = Math.Min(Block, r.Replicates - block * Block);
                for (int i = 0; i < replicates; i++) Replicate(r, rule, truths, local.Coupons, local.Heats, ref random, local.Counts);
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

    private static void Replicate(PlanRequest r, SimulatedRule rule, double[] truths, SimulatedCoupons coupons, SimulatedHeats? old, ref RandomStream random, long[] counts)
    {
        coupons.Draw(ref random);
        double within = Drawn(ref random, r.WithinHeatSd, r.WithinHeatSdDf);
        double candidate = r.CandidateWithinHeatSd is { } own ? own * within / r.WithinHeatSd : within;
        double heatSd = Drawn(ref random, r.HeatSd, r.HeatSdDf);
        TrendDraw trend = r.Trend is { } t ? TrendDraw.Of(ref random, t) : default;
        old?.Draw(ref random, within, heatSd);
        int at = 0;
        foreach (int h in r.Heats)
            foreach (int n in r.Coupons)
            {
                if (n < (h == 1 && old is null ? 3 : 1))
                {
                    for (int k = 0; k < truths.Length; k++) counts[at++ * Kinds + (int)Outcome.NoVerdict]++;
                    continue;
                }
                SimulatedEstimate e = old is not null && h > 1 ? old.Estimate(coupons, h, n, candidate, within, heatSd)
                    : h > 1 ? SimulatedEstimate.BetweenSources(coupons, h, n, candidate, within, heatSd)
                    : SimulatedEstimate.AsTested(coupons, n, candidate, within);
                if (r.Trend is { } trendOf) e = SimulatedEstimate.AtEqualHardness(e, trendOf, trend, n * h);
                (double narrow, double wide) = rule.HalfWidths(e.Variance, e.DegreesOfFreedom);
                foreach (double truth in truths) counts[at++ * Kinds + (int)rule.Of(truth + e.Error, narrow, wide)]++;
            }
    }

    private static double Drawn(ref RandomStream random, double sd, double? df) =>
        df is { } nu ? sd * Math.Sqrt(nu / random.ChiSquared(nu)) : sd;

    private static PlanRow Row(PlanRequest r, int heats, int coupons, double truth, ReadOnlySpan<long> counts)
    {
        Dictionary<string, double> odds = [], errors = [];
        for (int k = 0; k < Kinds; k++)
        {
            Outcome outcome = (Outcome)k;
            if (counts[k] == 0 && !Possible(r, outcome)) continue;
            double p = counts[k] / (double)r.Replicates;
            odds.Add(outcome.Code(), p);
            errors.Add(outcome.Code(), Math.Sqrt(p * (1 - p) / r.Replicates));
        }
        double agreement = (counts[(int)Outcome.Equivalent] + counts[(int)Outcome.EquivalentDetectable]) / (double)r.Replicates;
        bool closed = heats == 1 && coupons >= 3 && r.Trend is null && r.WithinHeatSdDf is null && r.CandidateWithinHeatSd is null;
        double? theory = closed
            ? EquivalencePower.Of(r.WithinHeatSd * Math.Sqrt(2.0 / coupons), 2 * coupons - 2, Scale(r, truth), Scale(r, r.MarginLow), Scale(r, r.MarginHigh), r.Alpha)
            : null;
        return new(coupons, heats, truth, odds, errors, agreement, theory, Detectable(r, heats, coupons), 2 * heats * (r.CostPerHeat + coupons * r.CostPerCoupon));
    }

    private static bool Possible(PlanRequest r, Outcome outcome) => outcome switch
    {
        Outcome.Better or Outcome.Worse => r.HigherIsBetter is not null,
        Outcome.Higher or Outcome.Lower => r.HigherIsBetter is null,
        Outcome.NoVerdict => false,
        _ => true,
    };

    /// <summary>The difference shown with a chance of 0.8 by a two-sided t test, by the noncentral t.</summary>
    private static double Detectable(PlanRequest r, int heats, int coupons)
    {
        double variance = heats == 1 ? r.WithinHeatSd * r.WithinHeatSd / coupons : (r.HeatSd * r.HeatSd + r.WithinHeatSd * r.WithinHeatSd / coupons) / heats;
        double nu = heats == 1 ? 2 * coupons - 2 : 2 * heats - 2;
        if (nu < 1) return double.PositiveInfinity;
        double critical = StudentT.Quantile(1 - r.Alpha / 2, nu), low = 0, high = 4 * critical + 4;
        for (int i = 0; i < 60; i++)
        {
            double middle = 0.5 * (low + high);
            if (NoncentralT.UpperTail(critical, nu, middle) < 0.8) low = middle; else high = middle;
        }
        double difference = high * Math.Sqrt(2 * variance);
        return r.Logarithmic ? Math.Exp(difference) : difference;
    }

    private static CheapestPlan? Cheapest(PlanRequest r, IReadOnlyList<PlanRow> rows)
    {
        double alike = r.Logarithmic ? 1 : 0;
        return rows.Where(row => row.TrueRatio.Equals(alike) && row.Agreement >= r.WantedChance).OrderBy(row => row.Cost).ThenBy(row => row.Coupons)
            .Select(row => new CheapestPlan(row.Coupons, row.Heats, row.Agreement, row.Cost)).FirstOrDefault();
    }

    private static string? CannotAnswer(PlanRequest r, IReadOnlyList<PlanRow> rows)
    {
        PlanRow best = rows.MinBy(row => row.SmallestDetectable)!;
        if (best.SmallestDetectable <= r.MarginHigh) return null;
        return string.Create(CultureInfo.InvariantCulture,
            $"The test cannot answer the question: the smallest {(r.Logarithmic ? "ratio" : "difference")} that any of these plans would show (chance 0.8) is {best.SmallestDetectable:G4}, beyond the margin {r.MarginHigh:G4}. Break more coupons, take more heats, choose a property that scatters less, or agree a wider margin.");
    }

    private static List<string> Notes(PlanRequest r)
    {
        List<string> notes = [$"{r.Replicates} simulated enquiries for each plan, seed {r.Seed}; all plans see the same coupons. One furnace load, equal numbers, no censored reading."];
        if (r.WithinHeatSdDf is null) notes.Add("The scatter within a heat is taken as known.");
        if (r.Heats.Any(h => h > 1) && r.HeatSdDf is null) notes.Add("The heat-to-heat scatter is taken as known.");
        if (r.Heats.Contains(1)) notes.Add("One heat a side judges these two lots as tested and says nothing of their sources.");
        if (r.Heats.Contains(1) && r.Heats.Any(h => h > 1)) notes.Add("Plans with one heat answer for these lots, plans with more for the sources: compare costs only within each kind.");
        if (r.Heats.Contains(1) && r.Coupons.Any(n => n <= 4)) notes.Add("Three or four coupons a lot are seldom enough to show agreement: most such enquiries end inconclusive.");
        return notes;
    }

    private static double Scale(PlanRequest r, double value) => r.Logarithmic ? Math.Log(value) : value;

    private static void Require(PlanRequest r)
    {
        double alike = r.Logarithmic ? 1 : 0;
        static string N(double v) => v.ToString("G6", CultureInfo.InvariantCulture);
        if (!(r.MarginLow < alike && r.MarginHigh > alike) || (r.Logarithmic && !(r.MarginLow > 0)))
            throw new PlanFaultException($"The margin {N(r.MarginLow)}..{N(r.MarginHigh)} must enclose {N(alike)}{(r.Logarithmic ? " and be above 0" : "")}.");
        if (!(r.WithinHeatSd > 0) || r.CandidateWithinHeatSd is <= 0)
            throw new PlanFaultException("The scatter within a heat must be above 0.");
        if (!(r.HeatSd >= 0)) throw new PlanFaultException("The scatter between heats must not be negative.");
        if (r.WithinHeatSdDf < 1 || r.HeatSdDf < 1) throw new PlanFaultException("The degrees of freedom behind a scatter must be at least 1.");
        if (r.Coupons.Count == 0 || r.Coupons.Any(n => n is < 1 or > 1000)) throw new PlanFaultException("Coupon numbers must lie between 1 and 1000.");
        if (r.Heats.Count == 0 || r.Heats.Any(h => h is < 1 or > 200)) throw new PlanFaultException("Heat numbers must lie between 1 and 200.");
        if (r.Truths.Count == 0 || (r.Logarithmic && r.Truths.Any(t => !(t > 0)))) throw new PlanFaultException("A true ratio must be above 0.");
        if (r.Replicates is < 100 or > 10_000_000) throw new PlanFaultException($"{r.Replicates} replicates: between 100 and 10000000 are accepted.");
        if (r.Alpha is not (> 0 and < 0.5)) throw new PlanFaultException($"Alpha {N(r.Alpha)} must lie between 0 and 0.5.");
        if (r.Trend is { } t && !(t.SlopeDf >= 1 && t.HardnessSdDf >= 1)) throw new PlanFaultException("The trend's degrees of freedom must be at least 1.");
    }
}
