using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Statistics.Resampling;

namespace Meltwise.Calibrations;

/// <summary>Questions B and C on an invented bench, judged by the verdict's own steps: unbalanced histories, source effects, curved trends, unrecorded session error, margins in hardness.</summary>
internal static class BenchRates
{
    private const double Slope = -0.09;
    private static readonly double s_margin = Math.Log(1.25);
    private static readonly int[] s_uneven = [2, 3, 9, 4, 2, 6];

    private static readonly RateColumn[] s_columns =
        [RateColumn.Covers("wide interval covers"), RateColumn.Covers("narrow interval covers", 0.90), RateColumn.Errs("false agreement at 1.25"), RateColumn.Errs("false better at 1.25", 0.025), RateColumn.Errs("false difference"), RateColumn.Tells("agreement at 1"), RateColumn.Tells("refused")];

    public static RateTable EqualHardness { get; } = new()
    {
        Name = "calibrate-equal-hardness",
        Title = "Equal hardness: unbalanced histories, sources, curved trends, session error",
        What = "Two given lots of 6 coupons unless told, slope -0.09 per HRC, scatter 0.12 within a heat and 0.06 between heats, heats spread over 0.7 HRC, coupon hardness read to 0.3 HRC, margin 0.80..1.25. Old heats as candidate's source + reference's + others; \"uneven\" is 2 to 9 coupons a heat. The true ratio at equal hardness is 1.25 or 1.",
        Columns = s_columns,
        Designs =
        [
            B("24 heats of 5, ΔH 0.5", new() { HeatsOfSource = [8, 8, 8], HardnessDifference = 0.5 }),
            B("24 heats of 5, ΔH 1", new() { HeatsOfSource = [8, 8, 8], HardnessDifference = 1 }),
            B("uneven 14 + 5 + 3 + 1 + 1, source spread 0.10, ΔH 0.5", Uneven() with { HardnessDifference = 0.5 }),
            B("uneven 14 + 5 + 3 + 1 + 1, source spread 0.10, ΔH 1", Uneven() with { HardnessDifference = 1 }),
            B("uneven 1 + 14, source spread 0.10, ΔH 1", Uneven() with { HeatsOfSource = [1, 14], HardnessDifference = 1 }),
            B("uneven 14 + 5 + 3 + 1 + 1, n 3, ΔH 1", Uneven() with { Coupons = 3, HardnessDifference = 1 }),
            B("uneven 14 + 5 + 3 + 1 + 1, n 15, ΔH 1", Uneven() with { Coupons = 15, HardnessDifference = 1 }),
            B("uneven 14 + 5 + 3 + 1 + 1, candidate scatters twice, ΔH 1", Uneven() with { CandidateScatter = 2, HardnessDifference = 1 }),
            B("10 heats in one source, ΔH 1", new() { HeatsOfSource = [0, 10], HardnessDifference = 1 }),
            B("curved -0.02 per HRC², lots in the middle, ΔH 1", Curved(-0.02) with { HardnessDifference = 1 }),
            B("curved -0.02 per HRC², lots 0.7 HRC off the middle, ΔH 1", Curved(-0.02) with { HardnessDifference = 1, HardnessOfLots = 0.7 }),
            B("curved -0.05 per HRC², lots 0.7 HRC off the middle, ΔH 1", Curved(-0.05) with { HardnessDifference = 1, HardnessOfLots = 0.7 }),
            B("curved -0.02 per HRC², lots 0.35 HRC off the middle, ΔH 1", Curved(-0.02) with { HardnessDifference = 1, HardnessOfLots = 0.35 }),
            B("curved -0.05 per HRC², lots 0.35 HRC off the middle, ΔH 1", Curved(-0.05) with { HardnessDifference = 1, HardnessOfLots = 0.35 }, 0.015),
            B("straight, lots 0.7 HRC off the middle, ΔH 1", Curved(0) with { HardnessDifference = 1, HardnessOfLots = 0.7 }),
            B("curved -0.05 per HRC², lots in the middle, ΔH 1", Curved(-0.05) with { HardnessDifference = 1 }),
            B("session error 0.15 HRC unrecorded, ΔH 1", Sessions(0.15, null)),
            B("session error 0.3 HRC unrecorded, ΔH 1", Sessions(0.3, null), 0.025),
            B("session error 0.3 HRC recorded, ΔH 1", Sessions(0.3, 0.3)),
        ],
        Replicates = 4_000,
        Reduced = 100,
        Seed = 302,
    };

    public static RateTable Sources { get; } = new()
    {
        Name = "calibrate-sources",
        Title = "Sources in general: unbalanced histories, source effects, equal hardness",
        What = "Lots of 5 coupons unless told, scatter 0.12 within a heat, heat to heat as told, other sources spread by 0.10, margin 0.80..1.25. Old heats as candidate's source + reference's + others, 2 to 9 coupons each where uneven. With hardness the comparison is at equal hardness with the bench's own slope, heats spread over 0.7 HRC, ΔH 0.8.",
        Columns = s_columns,
        Designs =
        [
            C("one heat each, old 0 + 0 + 8 + 4 + 3, heat spread 0.06", C(0.06) with { HeatsOfSource = [0, 0, 8, 4, 3] }),
            C("one heat each, old 0 + 0 + 8 + 4 + 3 uneven, heat spread 0.12", C(0.12) with { HeatsOfSource = [0, 0, 8, 4, 3], CouponsOfHeat = s_uneven }),
            C("newcomer against 12 old uneven, heat spread 0.06", C(0.06) with { HeatsOfSource = [0, 12], CouponsOfHeat = s_uneven }),
            C("newcomer against 12 old uneven, heat spread 0.12", C(0.12) with { HeatsOfSource = [0, 12], CouponsOfHeat = s_uneven }),
            C("newcomer that scatters twice within a heat, 12 old, heat spread 0.06", C(0.06) with { HeatsOfSource = [0, 12], CandidateScatter = 2 }),
            C("old 2 + 9 + 3 + 1 uneven, heat spread 0.03", C(0.03) with { HeatsOfSource = [2, 9, 3, 1], CouponsOfHeat = s_uneven }),
            C("old 2 + 9 + 3 + 1 uneven, heat spread 0.06", C(0.06) with { HeatsOfSource = [2, 9, 3, 1], CouponsOfHeat = s_uneven }),
            C("old 2 + 9 + 3 + 1 uneven, heat spread 0.12", C(0.12) with { HeatsOfSource = [2, 9, 3, 1], CouponsOfHeat = s_uneven }),
            C("3 heats each and no history, heat spread 0.06", C(0.06) with { HeatsOfSource = [], HeatsOfRole = 3 }),
            C("equal hardness, old 6 + 6 + 6, heat spread 0.06", C(0.06) with { HeatsOfSource = [6, 6, 6], HardnessSd = 0.7, HardnessDifference = 0.8 }),
            C("equal hardness, old 6 + 6 + 6, heat spread 0.12", C(0.12) with { HeatsOfSource = [6, 6, 6], HardnessSd = 0.7, HardnessDifference = 0.8 }),
            C("equal hardness, old 2 + 9 + 3 + 1 uneven, heat spread 0.06", C(0.06) with { HeatsOfSource = [2, 9, 3, 1], CouponsOfHeat = s_uneven, HardnessSd = 0.7, HardnessDifference = 0.8 }),
            C("equal hardness, newcomer against 12 old uneven, heat spread 0.06", C(0.06) with { HeatsOfSource = [0, 12], CouponsOfHeat = s_uneven, HardnessSd = 0.7, HardnessDifference = 0.8 }),
            C("equal hardness, newcomer against 12 old, curved -0.05, lots 0.7 HRC off the middle, heat spread 0.06", C(0.06) with { HeatsOfSource = [0, 12], HardnessSd = 0.7, HardnessDifference = 0.8, Curvature = -0.05, HardnessOfLots = 0.7 }, 0.025),
            C("equal hardness, old 6 + 6 + 6, curved -0.05, lots 0.7 HRC off the middle, heat spread 0.06", C(0.06) with { HeatsOfSource = [6, 6, 6], HardnessSd = 0.7, HardnessDifference = 0.8, Curvature = -0.05, HardnessOfLots = 0.7 }),
            C("equal hardness, 2 heats each, old 4 + 6 + 4, heat spread 0.12", C(0.12) with { HeatsOfSource = [4, 6, 4], HeatsOfRole = 2, HardnessSd = 0.7, HardnessDifference = 0.8 }),
        ],
        Replicates = 4_000,
        Reduced = 100,
        Seed = 303,
    };

    public static RateTable HardnessMargins { get; } = new()
    {
        Name = "calibrate-hardness-margins",
        Title = "Margins in hardness, questions A, B and C",
        What = "The margin is what 1 HRC is worth by the bench's own slope (true slope -0.09 per HRC, so 1.094 at the margin), scatter 0.08 within a heat, 15 coupons a lot, heats spread over 0.7 HRC with hardness read to 0.3 HRC a coupon. Rates are of all enquiries, with those where the margin is not resolved.",
        Columns = [RateColumn.Errs("false agreement at the upper margin"), RateColumn.Errs("false agreement at the lower margin"), RateColumn.Errs("false better at the margin", 0.025), RateColumn.Errs("false difference"), RateColumn.Tells("agreement at 1"), RateColumn.Tells("not resolved or refused")],
        Designs =
        [
            Margin("A, 10 heats", Estimand.AsTested, 0.05, [5, 5], 0, 1),
            Margin("A, 20 heats", Estimand.AsTested, 0.05, [10, 10], 0, 1),
            Margin("A, 40 heats", Estimand.AsTested, 0.05, [20, 20], 0, 1),
            Margin("B, 10 heats, ΔH 0.5", Estimand.EqualHardness, 0.05, [5, 5], 0.5, 1),
            Margin("B, 20 heats, ΔH 0.5", Estimand.EqualHardness, 0.05, [10, 10], 0.5, 1),
            Margin("B, 20 heats, ΔH -1", Estimand.EqualHardness, 0.05, [10, 10], -1, 1),
            Margin("B, 40 heats, ΔH 1", Estimand.EqualHardness, 0.05, [20, 20], 1, 1),
            Margin("C, 20 heats, heat spread 0.03", Estimand.Sources, 0.03, [10, 10], 0.5, 1),
            Margin("C, 40 heats, heat spread 0.03", Estimand.Sources, 0.03, [20, 20], 0.5, 1),
            Margin("C, 40 heats and 4 of each source, heat spread 0.03", Estimand.Sources, 0.03, [20, 20], 0.5, 4),
        ],
        Replicates = 4_000,
        Reduced = 100,
        Seed = 304,
    };

    private static SimulatedBench Uneven() => new() { HeatsOfSource = [14, 5, 3, 1, 1], CouponsOfHeat = s_uneven, SourceSd = 0.10 };

    private static SimulatedBench Curved(double curvature) => new() { HeatsOfSource = [8, 8, 8], Curvature = curvature };

    private static SimulatedBench Sessions(double sd, double? recorded) =>
        new() { HeatsOfSource = [8, 8, 8], HardnessDifference = 1, SessionSd = sd, Rule = new() { Property = "impact energy", Margin = new Margin.Ratio(0.8, 1.25), SessionSdHrc = recorded } };

    private static SimulatedBench C(double heatSd) => new()
    {
        HeatSd = heatSd,
        SourceSd = 0.10,
        Coupons = 5,
        HardnessSd = 0,
        Rule = new() { Property = "impact energy", Margin = new Margin.Ratio(0.8, 1.25), Estimand = Estimand.Sources },
    };

    private static Design B(string name, SimulatedBench bench, double allowance = 0.01) => Judged(name, bench, a => a.EqualHardness) with { Allowance = allowance };

    private static Design C(string name, SimulatedBench bench, double allowance = 0.01) => Judged(name, bench, a => a.Sources) with { Allowance = allowance };

    private static Design Judged(string name, SimulatedBench bench, Func<Assessment, EstimandResult?> of)
    {
        SimulatedBench atMargin = bench with { Truth = s_margin };
        return new(name, (ref RandomStream random, Tally tally) =>
        {
            EstimandResult? differs = of(atMargin.Judge(ref random)), same = of(bench.Judge(ref random));
            tally.Add(6, differs is not { Stands: true });
            if (differs is { Stands: true })
            {
                tally.Add(0, (differs.Ratio!.Lower, differs.Ratio.Upper), 1.25);
                tally.Add(1, (differs.RatioForMargin!.Lower, differs.RatioForMargin.Upper), 1.25);
            }
            tally.Add(2, Agrees(differs));
            tally.Add(3, differs?.Outcome == Outcome.Better);
            tally.Add(4, Excludes(same));
            tally.Add(5, Agrees(same));
        });
    }

    private static Design Margin(string name, Estimand estimand, double heatSd, int[] heats, double difference, int heatsOfRole)
    {
        SimulatedBench bench = new()
        {
            HeatsOfSource = heats,
            HeatSd = heatSd,
            Within = 0.08,
            Coupons = 15,
            HeatsOfRole = heatsOfRole,
            HardnessDifference = difference,
            Rule = new() { Property = "impact energy", Margin = new Margin.InHardness(1), Estimand = estimand },
        };
        EstimandResult? Of(Assessment a) => a.Stopped is null ? a.Main : null;
        return new(name, (ref RandomStream random, Tally tally) =>
        {
            EstimandResult? upper = Of((bench with { Truth = -Slope }).Judge(ref random)), lower = Of((bench with { Truth = Slope }).Judge(ref random)), same = Of(bench.Judge(ref random));
            tally.Add(0, Agrees(upper));
            tally.Add(1, Agrees(lower));
            tally.Add(2, upper?.Outcome == Outcome.Better);
            tally.Add(3, Excludes(same));
            tally.Add(4, Agrees(same));
            tally.Add(5, same is not { Stands: true });
        });
    }

    private static bool Agrees(EstimandResult? result) => result is { Stands: true, Outcome: Outcome.Equivalent or Outcome.EquivalentDetectable };

    private static bool Excludes(EstimandResult? result) => result is { Stands: true, PDifference: < 0.05 };
}
