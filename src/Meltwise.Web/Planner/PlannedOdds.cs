using System.Globalization;
using Meltwise.Casework.Planning;
using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Figures;
using Meltwise.Web.LongWork;

namespace Meltwise.Web.Planner;

/// <summary>The odds of a plan against the truth, against the number of coupons, and over many plans for the cheapest.</summary>
/// <param name="ByTruth">The plan itself against many truths.</param>
/// <param name="ByCoupons">Other numbers of coupons at the wanted truth, loads as needed.</param>
/// <param name="Search">Many numbers of heats and coupons at the wanted truth, loads as needed; null where none can be made.</param>
internal sealed record PlannedOdds(PlanTable ByTruth, PlanTable ByCoupons, PlanTable? Search)
{
    private const int MostInSearch = 2000;
    private static readonly LineRole[] s_lines = [LineRole.Heavy, LineRole.Dashed, LineRole.Dotted, LineRole.Trend, LineRole.Thin];
    private static readonly int[] s_numbers = [3, 4, 5, 6, 7, 8, 9, 10, 12, 15, 18, 22, 26, 30, 40], s_atLevels = [1, 2, 3, 4, 5, 6, 7, 8, 10, 12, 15], s_heats = [1, 2, 3, 4, 6];

    /// <summary>Simulates all three.</summary>
    /// <exception cref="WorkRefusedException">The plan makes no sense or cannot answer; with words for the person.</exception>
    public static PlannedOdds Of(TypedPlan plan, IProgress<double> progress, CancellationToken cancel)
    {
        PlanRequest request = plan.Request;
        try
        {
            double wanted = request.Wanted;
            int[] numbers = request.Ladder is null ? s_numbers : s_atLevels;
            int mostLoads = request.LoadCapacity is { } room ? Math.Clamp((2 * Math.Max(6, request.Ladder?.Levels ?? 0) * numbers[^1] + room - 1) / room, plan.Loads, 50) : plan.Loads;
            PlanRequest asNeeded = request with { Loads = [.. Enumerable.Range(plan.Loads, mostLoads - plan.Loads + 1)], LoadsAsNeeded = true, Truths = [wanted] };
            PlanTable byTruth = OutcomeOdds.Of(request with { Truths = [.. Truths(request).Append(wanted).Distinct().Order()] }, new ShareOfWork(progress, 0, 0.2), cancel);
            PlanTable byCoupons = OutcomeOdds.Of(asNeeded with { Coupons = [.. numbers.Append(plan.Coupons).Distinct().Order()] }, new ShareOfWork(progress, 0.2, 0.5), cancel);
            return new(byTruth, byCoupons, Searched(asNeeded, plan.Heats, new ShareOfWork(progress, 0.5, 1), cancel));
        }
        catch (Exception told) when (told is PlanFaultException or PlanRefusedException)
        {
            throw new WorkRefusedException(told.Message);
        }
    }

    /// <summary>Odds against the truth.</summary>
    public Figure TruthFigure(TypedPlan plan)
    {
        OddsCurve[] curves =
        [
            .. Occurring(ByTruth).Select((outcome, i) => new OddsCurve(
                outcome.Replace('-', ' '), s_lines[i % s_lines.Length], [.. ByTruth.Table.OrderBy(r => r.TrueRatio).Select(r => new Place(r.TrueRatio, r.Odds.GetValueOrDefault(outcome)))])),
        ];
        (double low, double high) = plan.Request.MarginLimits;
        string words = plan.Request.Further.Count == 0 ? plan.Words : $"{plan.Words}; {plan.Properties.Count} properties together, the true {(plan.Request.Logarithmic ? "ratio" : "difference")} is that of {plan.Property.Name}";
        return plan.Request.Logarithmic ? OddsFigure.AgainstRatio(curves, new(low, high), words) : OddsFigure.AgainstDifference(curves, new(low, high), plan.Property.StoredUnit.Name, words);
    }

    /// <summary>Chances of the three answers against the number of coupons.</summary>
    public Figure CouponFigure(TypedPlan plan)
    {
        PlanRow[] rows = [.. ByCoupons.Table.OrderBy(r => r.Coupons)];
        OddsCurve Curve(string answer, LineRole line) => new(answer, line, [.. rows.Select(r => new Place(r.Coupons, r.Answers[answer]))]);
        string truth = string.Create(CultureInfo.InvariantCulture, $"a true {(plan.Request.Logarithmic ? "ratio" : "difference")} of {ByCoupons.WantedAt:0.###}");
        return OddsFigure.AgainstCoupons([Curve("yes", LineRole.Heavy), Curve("open", LineRole.Dashed), Curve("no", LineRole.Dotted)], truth, plan.Coupons, plan.Request.WantedChance, plan.CouponsOf);
    }

    /// <summary>Outcomes that occur at all, in the order of the first row.</summary>
    public static IReadOnlyList<string> Occurring(PlanTable table) =>
        [.. table.Table.SelectMany(r => r.Odds).GroupBy(o => o.Key).Where(g => g.Max(o => o.Value) >= 0.01).Select(g => g.Key)];

    private static PlanTable? Searched(PlanRequest asNeeded, int heats, IProgress<double> progress, CancellationToken cancel)
    {
        try
        {
            bool ladder = asNeeded.Ladder is not null;
            return OutcomeOdds.Of(asNeeded with { Coupons = ladder ? s_atLevels : s_numbers, Heats = ladder ? [1] : [.. s_heats.Append(heats).Distinct().Order()], Replicates = Math.Min(MostInSearch, asNeeded.Replicates) }, progress, cancel);
        }
        catch (PlanRefusedException)
        {
            return null;
        }
    }

    /// <summary>From well below to well above the margin.</summary>
    private static IEnumerable<double> Truths(PlanRequest request)
    {
        (double low, double high) = request.MarginLimits;
        const int Steps = 24;
        (double from, double to) = request.Logarithmic ? (Math.Log(low) * 1.8, Math.Log(high) * 1.8) : (low * 1.8, high * 1.8);
        double at(int i) => from + (to - from) * i / Steps;
        return Enumerable.Range(0, Steps + 1).Select(i => request.Logarithmic ? Math.Exp(at(i)) : at(i));
    }
}
