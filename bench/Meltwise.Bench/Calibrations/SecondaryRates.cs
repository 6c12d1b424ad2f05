using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Multiplicity;
using Meltwise.Statistics.Resampling;
using Meltwise.Statistics.Uncertainty;

namespace Meltwise.Calibrations;

/// <summary>Several properties at once, and conformity with a grade's limits.</summary>
internal static class SecondaryRates
{
    public static RateTable Several { get; } = new()
    {
        Name = "calibrate-properties",
        Title = "Several properties: a difference in any, agreement in all",
        What = "Welch's test on each of several properties of two lots of n coupons whose readings on one coupon correlate as told. \"Any\" is the chance that a difference is claimed (Holm, α 0.05) in a property that has none; one property more differs by 1.5 standard deviations where told. \"All agree\" claims agreement in every property (each uncorrected, margin ±2.5 standard deviations) while one lies at its margin and the others are alike.",
        Columns = [RateColumn.Errs("any false difference, Holm"), RateColumn.Tells("any false difference, uncorrected"), RateColumn.Errs("all agree, one at its margin")],
        Designs = [.. from m in (int[])[2, 4, 8] from n in (int[])[4, 9] from correlation in (double[])[0, 0.7] from differs in (bool[])[false, true] select Of(m, n, correlation, differs)],
        Replicates = 10_000,
        Reduced = 1_000,
        Seed = 306,
    };

    public static RateTable Conforming { get; } = new()
    {
        Name = "calibrate-conformity",
        Title = "Conformity with a grade's limits: guard bands",
        What = "A value measured with standard uncertainty u against limits 10 u apart. The true value lies at a limit (the worst case), or, for the risks of a whole population, is drawn about the middle with the spread told. Guard band for 5 %; the last two columns are the shares of a whole population that are wrongly accepted and wrongly rejected.",
        Columns = [RateColumn.Errs("accepted with the truth at the upper limit"), RateColumn.Errs("rejected with the truth at the upper limit"), RateColumn.Tells("accepted and outside, population"), RateColumn.Tells("rejected though inside, population")],
        Designs = [.. from spread in (double[])[1, 3, 6] select Guard(spread)],
        Replicates = 100_000,
        Reduced = 10_000,
        Seed = 307,
    };

    private static Design Of(int m, int n, double correlation, bool differs) =>
        new(FormattableString.Invariant($"{m} properties, n {n}, correlation {correlation}{(differs ? ", one more differs" : "")}"), (ref RandomStream random, Tally tally) =>
        {
            int all = m + (differs ? 1 : 0);
            double[][] z = [.. Enumerable.Range(0, all).Select(_ => new double[2 * n])];
            for (int i = 0; i < 2 * n; i++)
            {
                double common = random.Normal();
                for (int j = 0; j < all; j++) z[j][i] = Math.Sqrt(correlation) * common + Math.Sqrt(1 - correlation) * random.Normal() + (j == m && i < n ? 1.5 : 0);
            }
            bool[] candidate = [.. Enumerable.Range(0, 2 * n).Select(i => i < n)];
            ContrastEstimate[] e = [.. z.Select(property => WithinLoadContrast.Fit(property, candidate, new int[2 * n], 1)!.Own)];
            double[] adjusted = Holm.Adjust([.. e.Select(c => c.PDifference)]);
            tally.Add(0, adjusted.Take(m).Any(p => p < 0.05));
            tally.Add(1, e.Take(m).Any(c => c.PDifference < 0.05));
            if (!differs) tally.Add(2, IntersectionUnion.P([.. e.Select((c, j) => (j == 0 ? c with { Estimate = c.Estimate + 2.5 } : c).PEquivalence(-2.5, 2.5))]) < 0.05);
        });

    private static Design Guard(double spread)
    {
        double band = Conformity.GuardBand(1, 0.05);
        return new(FormattableString.Invariant($"population spread {spread:0} u"), (ref RandomStream random, Tally tally) =>
        {
            ConformityDecision worst = Conformity.Decide(5 + random.Normal(), -5, 5, band);
            tally.Add(0, worst == ConformityDecision.Accept);
            tally.Add(1, worst == ConformityDecision.Reject);
            double truth = spread * random.Normal();
            ConformityDecision of = Conformity.Decide(truth + random.Normal(), -5, 5, band);
            tally.Add(2, of == ConformityDecision.Accept && Math.Abs(truth) > 5);
            tally.Add(3, of == ConformityDecision.Reject && Math.Abs(truth) <= 5);
        });
    }
}
