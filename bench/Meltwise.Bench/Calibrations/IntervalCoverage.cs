using System.Globalization;
using System.Text;
using Meltwise.Statistics.MetaAnalysis;
using Meltwise.Statistics.MixedModels;
using Meltwise.Statistics.OneWay;
using Meltwise.Statistics.Resampling;
using Meltwise.Statistics.Studies;

namespace Meltwise.Bench.Calibrations;

/// <summary>Coverage of the intervals of all pairs together (question D), of mixed models and of treatment studies.</summary>
internal static class IntervalCoverage
{
    public static string Page()
    {
        StringBuilder page = new();
        page.AppendLine("# Coverage of intervals").AppendLine();
        page.AppendLine("Nominal 95 %. Monte-Carlo standard error of a coverage near 0.95: 0.0015 at 20000 replicates, 0.003 at 5000.").AppendLine();
        Pairs(page);
        Sources(page);
        Studies(page);
        OneHeat(page);
        return page.ToString();
    }

    private static void Pairs(StringBuilder page)
    {
        page.AppendLine("## All pairs together: mean and next comparison").AppendLine().AppendLine("Sampling errors 0.04 to 0.10; 20000 replicates; Hartung-Knapp, factor kept at 1 or above (plain beside it).").AppendLine();
        page.AppendLine("| comparisons | true spread τ | mean | mean, plain factor | next comparison |").AppendLine("| --- | --- | --- | --- | --- |");
        foreach (int k in (int[])[3, 5, 10, 20])
            foreach (double tau in (double[])[0, 0.04, 0.10])
            {
                double[] covered = Count(20_000, 3, (ref RandomStream r, Span<int> hit) =>
                {
                    double[] y = new double[k], v = new double[k];
                    for (int i = 0; i < k; i++)
                    {
                        double se = 0.04 + 0.06 * r.Uniform();
                        (y[i], v[i]) = (tau * r.Normal() + se * r.Normal(), se * se);
                    }
                    RandomEffectsResult kept = RandomEffectsMean.Fit(y, v), plain = RandomEffectsMean.Fit(y, v, truncated: false);
                    double next = tau * r.Normal();
                    if (kept.Interval.Lower <= 0 && kept.Interval.Upper >= 0) hit[0]++;
                    if (plain.Interval.Lower <= 0 && plain.Interval.Upper >= 0) hit[1]++;
                    if (kept.PredictionInterval.Lower <= next && kept.PredictionInterval.Upper >= next) hit[2]++;
                });
                page.AppendLine(CultureInfo.InvariantCulture, $"| {k} | {tau:F2} | {covered[0]:F3} | {covered[1]:F3} | {covered[2]:F3} |");
            }
        page.AppendLine();
    }

    private static void Sources(StringBuilder page)
    {
        page.AppendLine("## Mixed model: difference of two sources, unequal heats").AppendLine().AppendLine("4 and 7 heats of 2 to 6 coupons, scatter 0.12 within; 5000 replicates.").AppendLine();
        page.AppendLine("| heat scatter | Kenward-Roger | Satterthwaite, expected | Satterthwaite, observed |").AppendLine("| --- | --- | --- | --- |");
        foreach (double tau in (double[])[0.03, 0.06, 0.12])
        {
            double[] covered = Count(5_000, 3, (ref RandomStream r, Span<int> hit) =>
            {
                List<double> y = [], source = [];
                List<string> heat = [];
                for (int h = 0; h < 11; h++)
                {
                    double u = tau * r.Normal();
                    for (int i = 0, n = 2 + h % 5; i < n; i++)
                    {
                        y.Add(u + 0.12 * r.Normal());
                        source.Add(h < 4 ? 1 : 0);
                        heat.Add($"{h}");
                    }
                }
                MixedFit fit = LinearMixedModel.Fit(y, [y.ConvertAll(_ => 1.0), source], ["mean", "source"], [RandomTerm.Of("heat", heat)]);
                DegreesOfFreedomMethod[] methods = [DegreesOfFreedomMethod.KenwardRoger, DegreesOfFreedomMethod.SatterthwaiteExpected, DegreesOfFreedomMethod.SatterthwaiteObserved];
                for (int m = 0; m < 3; m++)
                {
                    MixedContrast c = fit.Coefficient(1, methods[m]);
                    (double lower, double upper) = (c with { DegreesOfFreedom = Math.Max(1, c.DegreesOfFreedom) }).Interval(0.95);
                    if (lower <= 0 && upper >= 0) hit[m]++;
                }
            });
            page.AppendLine(CultureInfo.InvariantCulture, $"| {tau:F2} | {covered[0]:F3} | {covered[1]:F3} | {covered[2]:F3} |");
        }
        page.AppendLine();
    }

    private static void Studies(StringBuilder page)
    {
        page.AppendLine("## Treatment studies: all differences to the control together").AppendLine().AppendLine("4 groups, every heat in every group with 3 coupons, scatter 0.10 within, 0.06 between heats, heat×group as stated; 400 replicates (standard error 0.011).").AppendLine();
        page.AppendLine("| heats | heat×group scatter | all true differences covered |").AppendLine("| --- | --- | --- |");
        foreach (int heats in (int[])[3, 5])
            foreach (double interaction in (double[])[0, 0.05])
            {
                double[] covered = Count(400, 1, (ref RandomStream r, Span<int> hit) =>
                {
                    List<StudyReading> rows = [];
                    for (int h = 0; h < heats; h++)
                    {
                        double u = 0.06 * r.Normal();
                        for (int g = 0; g < 4; g++)
                        {
                            double cell = u + interaction * r.Normal();
                            for (int i = 0; i < 3; i++) rows.Add(new(cell + 0.10 * r.Normal(), $"G{g}", $"H{h}", null));
                        }
                    }
                    if (TreatmentStudy.Analyse(rows, new() { Control = "G0" }).Comparisons.All(c => !c.Excludes)) hit[0]++;
                });
                page.AppendLine(CultureInfo.InvariantCulture, $"| {heats} | {interaction:F2} | {covered[0]:F3} |");
            }
        page.AppendLine();
    }

    private static void OneHeat(StringBuilder page)
    {
        page.AppendLine("## One heat: all pairs together by Games and Howell").AppendLine().AppendLine("4 groups, scatter 0.06, 0.09, 0.12, 0.18; 400 replicates (standard error 0.011).").AppendLine();
        page.AppendLine("| coupons a group | all true differences covered |").AppendLine("| --- | --- |");
        foreach (int n in (int[])[3, 6, 12])
        {
            double[] covered = Count(400, 1, (ref RandomStream r, Span<int> hit) =>
            {
                double[][] groups = new double[4][];
                for (int g = 0; g < 4; g++)
                {
                    groups[g] = new double[n];
                    for (int i = 0; i < n; i++) groups[g][i] = 0.06 * Math.Pow(1.442, g) * r.Normal();
                }
                if (PairwiseIntervals.GamesHowell(groups).All(d => d.P > 0.05)) hit[0]++;
            });
            page.AppendLine(CultureInfo.InvariantCulture, $"| {n} | {covered[0]:F3} |");
        }
    }

    private delegate void Replicate(ref RandomStream random, Span<int> hits);

    private static double[] Count(int replicates, int kinds, Replicate replicate)
    {
        const int Block = 100;
        int[] total = new int[kinds];
        Parallel.For(0, replicates / Block, block =>
        {
            RandomStream random = new(201, block);
            int[] hits = new int[kinds];
            for (int i = 0; i < Block; i++) replicate(ref random, hits);
            lock (total)
                for (int k = 0; k < kinds; k++) total[k] += hits[k];
        });
        return [.. total.Select(t => t / (double)replicates)];
    }
}
