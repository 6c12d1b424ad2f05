using System.Globalization;
using System.Text;
using Meltwise.Casework.Planning;

namespace Meltwise.Calibrations;

/// <summary>Actual error rates of the as-tested outcomes and of the sources, at the margin and at equality, at full size.</summary>
internal static class OutcomeRates
{
    private const int Replicates = 200_000;

    public static string Page()
    {
        StringBuilder page = new();
        page.AppendLine("# Error rates of the outcomes").AppendLine();
        page.AppendLine(CultureInfo.InvariantCulture, $"{Replicates} simulated enquiries a row, margin 0.80..1.25, alpha 0.05, normal logarithms; Monte-Carlo standard error of a rate at most 0.0011, at 0.05 it is 0.0005. \"False agreement\" is at the true ratio 1.25, \"false difference\" at 1, \"wrong direction\" is worse at a true ratio of 1.25.").AppendLine();
        AsTested(page);
        EqualHardness(page);
        Sources(page);
        return page.ToString();
    }

    private static void AsTested(StringBuilder page)
    {
        page.AppendLine("## As tested").AppendLine().AppendLine("| scatter | n | false agreement | false difference | wrong direction | agreement at 1 |").AppendLine("| --- | --- | --- | --- | --- | --- |");
        foreach (double sd in (double[])[0.10, 0.15, 0.25])
            Rows(page, $"{sd:F2}", new() { MarginLow = 0.8, MarginHigh = 1.25, WithinHeatSd = sd, Coupons = [3, 4, 6, 9, 15], Truths = [1, 1.25], Replicates = Replicates, Seed = 101 });
        page.AppendLine();
    }

    private static void EqualHardness(StringBuilder page)
    {
        page.AppendLine("## At equal hardness").AppendLine().AppendLine("Scatter 0.12; slope -0.09 per HRC with standard error 0.02 on 20 degrees of freedom, hardness read to 0.3 HRC a coupon.").AppendLine();
        page.AppendLine("| hardness difference | n | false agreement | false difference | wrong direction | agreement at 1 |").AppendLine("| --- | --- | --- | --- | --- | --- |");
        foreach (double difference in (double[])[0, 0.5, 1, 1.5])
            Rows(page, $"{difference:F1} HRC", new()
            {
                MarginLow = 0.8,
                MarginHigh = 1.25,
                WithinHeatSd = 0.12,
                Coupons = [3, 6, 9, 15],
                Truths = [1, 1.25],
                Replicates = Replicates,
                Seed = 102,
                Trend = new(-0.09, 0.02, 20, difference, 0.3, 100),
            });
        page.AppendLine();
    }

    private static void Sources(StringBuilder page)
    {
        page.AppendLine("## Sources").AppendLine().AppendLine("Within-heat scatter 0.12; with history: 10 and 6 old heats of the two sources and 8 each of three others, 5 coupons a heat.").AppendLine();
        page.AppendLine("| heat scatter, heats, history | n | false agreement | false difference | wrong direction | agreement at 1 |").AppendLine("| --- | --- | --- | --- | --- | --- |");
        foreach (double heatSd in (double[])[0, 0.03, 0.06, 0.12])
            foreach (int heats in (int[])[2, 3, 5])
                foreach (bool history in (bool[])[false, true])
                    Rows(page, $"{heatSd:F2}, {heats}, {(history ? "40 old heats" : "none")}", new()
                    {
                        MarginLow = 0.8,
                        MarginHigh = 1.25,
                        WithinHeatSd = 0.12,
                        HeatSd = heatSd,
                        Heats = [heats],
                        Coupons = [3, 6],
                        Truths = [1, 1.25],
                        Replicates = history ? Replicates / 4 : Replicates,
                        Seed = 103,
                        History = history ? new(10, 6, [8, 8, 8], 5) : null,
                    });
        page.AppendLine();
    }

    private static void Rows(StringBuilder page, string label, PlanRequest request)
    {
        IReadOnlyList<PlanRow> rows = OutcomeOdds.Of(request).Table;
        for (int i = 0; i < rows.Count; i += 2)
        {
            PlanRow same = rows[i], margin = rows[i + 1];
            double excludes = same.Odds["equivalent-detectable"] + same.Odds["different-open"] + same.Odds["better"] + same.Odds["worse"];
            page.AppendLine(CultureInfo.InvariantCulture, $"| {label} | {same.Coupons} | {margin.Agreement:F4} | {excludes:F4} | {margin.Odds["worse"]:F4} | {same.Agreement:F3} |");
        }
    }
}
