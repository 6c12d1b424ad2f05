using System.Globalization;
using Meltwise.Casework.Planning;
using Meltwise.Domain;
using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Figures;
using Meltwise.Web.LongWork;

namespace Meltwise.Web.Planner;

/// <summary>The odds of a plan against the true ratio, and against the number of coupons if the lots are truly alike.</summary>
internal sealed record PlannedOdds(PlanTable ByRatio, PlanTable ByCoupons, Margin.Ratio Margin, int Coupons, int Heats)
{
    private static readonly LineRole[] s_lines = [LineRole.Heavy, LineRole.Dashed, LineRole.Dotted, LineRole.Thin, LineRole.Trend];

    /// <summary>Simulates both.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="replicates">Replicates of each cell.</param>
    /// <param name="progress">Told the share done.</param>
    /// <param name="cancel">Stops it.</param>
    /// <exception cref="PlanFaultException">A number makes no plan.</exception>
    public static PlannedOdds Of(TypedPlan plan, int replicates, IProgress<double> progress, CancellationToken cancel)
    {
        (Margin.Ratio margin, double cv, double heatCv, int coupons, int heats) = plan;
        var request = new PlanRequest { MarginLow = margin.Low, MarginHigh = margin.High, WithinHeatSd = cv, HeatSd = heatCv, Coupons = [coupons], Heats = [heats], Replicates = replicates };
        double[] truths = [.. Enumerable.Range(0, 24).Select(i => margin.Low * 0.9 * Math.Pow(margin.High / margin.Low / 0.81, i / 23.0)), 1];
        int[] numbers = [.. new[] { 3, 4, 6, 9, 12, 15, 20, 30, coupons }.Distinct().Order()];
        double first = truths.Length / (double)(truths.Length + numbers.Length);
        return new(
            OutcomeOdds.Of(request with { Truths = [.. truths.Order()] }, new ShareOfWork(progress, 0, first), cancel),
            OutcomeOdds.Of(request with { Coupons = numbers }, new ShareOfWork(progress, first, 1), cancel),
            margin, coupons, heats);
    }

    /// <summary>Odds against the true ratio.</summary>
    public Figure RatioFigure() => OddsFigure.AgainstRatio(
        Curves(ByRatio, r => r.TrueRatio), new(Margin.Low, Margin.High), string.Create(CultureInfo.InvariantCulture, $"{Coupons} coupons a heat, {Heats} {(Heats == 1 ? "heat" : "heats")} a source"));

    /// <summary>Odds against the number of coupons.</summary>
    public Figure CouponFigure() => OddsFigure.AgainstCoupons(Curves(ByCoupons, r => r.Coupons), "true ratio 1", Coupons);

    /// <summary>Outcomes that occur at all, in the order of the first row.</summary>
    public static IReadOnlyList<string> Occurring(PlanTable table) =>
        [.. table.Table.SelectMany(r => r.Odds).GroupBy(o => o.Key).Where(g => g.Max(o => o.Value) >= 0.01).Select(g => g.Key)];

    private static OddsCurve[] Curves(PlanTable table, Func<PlanRow, double> x) =>
    [
        .. Occurring(table).Select((outcome, i) => new OddsCurve(
            outcome.Replace('-', ' '), s_lines[i % s_lines.Length], [.. table.Table.OrderBy(x).Select(r => new Place(x(r), r.Odds.GetValueOrDefault(outcome)))])),
    ];
}
