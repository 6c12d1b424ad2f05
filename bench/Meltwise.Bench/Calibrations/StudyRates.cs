using Meltwise.Statistics.OneWay;
using Meltwise.Statistics.Resampling;
using Meltwise.Statistics.Studies;

namespace Meltwise.Calibrations;

/// <summary>Error rates of treatment studies: all differences of a family at once, and "no change beyond a level".</summary>
internal static class StudyRates
{
    private const int MixedReplicates = 1_000;

    private static readonly string[] s_levels = ["G0", "G1", "G2", "G3"];

    public static RateTable Family { get; } = new()
    {
        Name = "calibrate-studies",
        Title = "Treatment studies: the whole family of differences",
        What = "4 groups without any true difference, every heat in every group with 3 coupons, scatter 0.10 within and 0.06 between heats; heat×group, furnace loads and unequal group scatter (0.05, 0.08, 0.12, 0.20) as told. The family errs when any difference to the control, or of any pair, excludes no difference.",
        Columns = [RateColumn.Errs("any difference, to a control"), RateColumn.Errs("any difference, all pairs"), RateColumn.Tells("mean width of the intervals below 0.5")],
        Designs =
        [
            Heats("3 heats", 3, 0, 0, false), Heats("3 heats, heat×group 0.05", 3, 0.05, 0, false), Heats("5 heats", 5, 0, 0, false), Heats("5 heats, heat×group 0.05", 5, 0.05, 0, false),
            Heats("5 heats, 4 loads of spread 0.06", 5, 0, 0.06, false), Heats("5 heats, unequal group scatter", 5, 0, 0, true), Heats("8 heats, heat×group 0.05, unequal group scatter", 8, 0.05, 0, true),
            OneHeat(3), OneHeat(6), OneHeat(12),
        ],
        Replicates = 4_000,
        Reduced = 50,
        ReducedStride = 5,
        Seed = 308,
    };

    public static RateTable NoChange { get; } = new()
    {
        Name = "calibrate-no-change",
        Title = "Treatment studies: no change beyond a level",
        What = "4 ordered levels, the two highest alike and the second lying at the margin (±0.15) from them, the lowest twice as far; scatter 0.08 within, 5 coupons a heat and level. A claim errs when it reaches the second level or the lowest.",
        Columns = [RateColumn.Errs("claim reaches too low"), RateColumn.Tells("claims the third level")],
        Designs = [Ladder("3 heats, heat spread 0.06", 3, 0.06, 0), Ladder("5 heats, heat spread 0.06", 5, 0.06, 0), Ladder("5 heats, heat×group 0.04", 5, 0.06, 0.04), Ladder("one heat", 1, 0, 0)],
        Replicates = 2_000,
        Reduced = 50,
        Seed = 309,
    };

    private static Design Heats(string name, int heats, double interaction, double load, bool unequal) => new(name, (ref RandomStream random, Tally tally) =>
    {
        double[] scatter = unequal ? [0.05, 0.08, 0.12, 0.20] : [0.10, 0.10, 0.10, 0.10], loads = [.. Draws(ref random, 4, load)];
        List<StudyReading> rows = [];
        for (int h = 0; h < heats; h++)
        {
            double u = 0.06 * random.Normal();
            for (int g = 0; g < 4; g++)
            {
                double cell = u + interaction * random.Normal();
                for (int i = 0; i < 3; i++)
                    rows.Add(new(cell + loads[(i + g + h) % 4] + scatter[g] * random.Normal(), s_levels[g], $"H{h}", load > 0 ? $"L{(i + g + h) % 4}" : null));
            }
        }
        Note(tally, rows);
    }, Replicates: MixedReplicates);

    private static Design OneHeat(int n) => new($"one heat, {n} coupons a group, unequal group scatter", (ref RandomStream random, Tally tally) =>
    {
        double[] scatter = [0.05, 0.08, 0.12, 0.20];
        List<StudyReading> rows = [];
        for (int g = 0; g < 4; g++)
            for (int i = 0; i < n; i++) rows.Add(new(scatter[g] * random.Normal(), s_levels[g], "H", null));
        Note(tally, rows);
    });

    private static Design Ladder(string name, int heats, double heatSd, double interaction) => new(name, (ref RandomStream random, Tally tally) =>
    {
        double[] level = [0.30, 0.15, 0, 0];
        List<StudyReading> rows = [];
        for (int h = 0; h < heats; h++)
        {
            double u = heatSd * random.Normal();
            for (int g = 0; g < 4; g++)
            {
                double cell = level[g] + u + interaction * random.Normal();
                for (int i = 0; i < 5; i++) rows.Add(new(cell + 0.08 * random.Normal(), s_levels[g], $"H{h}", null));
            }
        }
        string? beyond = TreatmentStudy.Analyse(rows, new() { OrderedGroups = s_levels, Diagnosed = false, MarginLow = -0.15, MarginHigh = 0.15 }).NoChangeBeyond;
        tally.Add(0, beyond is "G0" or "G1");
        tally.Add(1, beyond == "G2");
    });

    private static void Note(Tally tally, List<StudyReading> rows)
    {
        tally.Add(0, TreatmentStudy.Analyse(rows, new() { Control = "G0", Diagnosed = false }).Comparisons.Any(c => c.Excludes));
        StudyResult pairs = TreatmentStudy.Analyse(rows, new() { Diagnosed = false });
        tally.Add(1, pairs.Comparisons.Any(c => c.Excludes));
        tally.Add(2, pairs.Comparisons.Average(c => c.Upper - c.Lower) < 0.5);
    }

    private static double[] Draws(ref RandomStream random, int count, double sd)
    {
        double[] draws = new double[count];
        for (int i = 0; i < count; i++) draws[i] = sd * random.Normal();
        return draws;
    }
}
