using System.Globalization;
using Meltwise.Metallurgy.Composition;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>Turns draws into intervals.</summary>
internal static class DrawSummary
{
    /// <summary>Draws that gave no number, in words, or null when there were none.</summary>
    /// <exception cref="ChainRefusedException">More than one in a hundred.</exception>
    public static string? FailedDraws(IReadOnlyList<ChainState> reference, IReadOnlyList<ChainState> candidate)
    {
        int failed = 0;
        for (int i = 0; i < reference.Count; i++)
            if (double.IsNaN(reference[i].HardnessHrc) || double.IsNaN(candidate[i].HardnessHrc)) failed++;
        if (failed > 0.01 * reference.Count)
            throw new ChainRefusedException(string.Create(CultureInfo.InvariantCulture,
                $"In {failed} of {reference.Count} draws the chain has no answer: dissolved carbon outside 0.1 to 1.0 wt%, or no certified equilibrium. The treatment or the chemistry is outside what the models cover."));
        return failed == 0 ? null : string.Create(CultureInfo.InvariantCulture, $"{failed} of {reference.Count} draws had no answer and were left out.");
    }

    /// <summary>Intervals of one heat.</summary>
    public static ChainIntervals Of(IReadOnlyList<ChainState> states, double level) => Build(states, null, level);

    /// <summary>Intervals of candidate less reference.</summary>
    public static ChainIntervals Difference(IReadOnlyList<ChainState> candidate, IReadOnlyList<ChainState> reference, double level) => Build(candidate, reference, level);

    /// <summary>Interval of a list of draws.</summary>
    public static Interval Of(IReadOnlyList<double> draws, double level)
    {
        double[] sorted = [.. draws.Where(d => !double.IsNaN(d)).Order()];
        return new(Quantile(sorted, 0.5), Quantile(sorted, (1 - level) / 2), Quantile(sorted, (1 + level) / 2), level);
    }

    private static double Quantile(double[] sorted, double p)
    {
        double h = (sorted.Length - 1) * p;
        int i = (int)h;
        return i + 1 < sorted.Length ? sorted[i] + (h - i) * (sorted[i + 1] - sorted[i]) : sorted[^1];
    }

    private static ChainIntervals Build(IReadOnlyList<ChainState> states, IReadOnlyList<ChainState>? less, double level)
    {
        Interval Each(Func<ChainState, double> quantity)
        {
            double[] draws = new double[states.Count];
            for (int i = 0; i < draws.Length; i++)
            {
                bool failed = double.IsNaN(states[i].HardnessHrc) || (less is not null && double.IsNaN(less[i].HardnessHrc));
                draws[i] = failed ? double.NaN : quantity(states[i]) - (less is null ? 0 : quantity(less[i]));
            }
            return Of(draws, level);
        }

        Dictionary<CarbideKind, Interval> kinds = [];
        foreach (CarbideKind kind in Enum.GetValues<CarbideKind>())
            if (states.Any(s => s.Carbides[kind] > 0) || (less?.Any(s => s.Carbides[kind] > 0) ?? false)) kinds[kind] = Each(s => s.Carbides[kind]);
        return new(Each(s => s.Austenite.C), Each(s => s.Austenite.Cr), Each(s => s.Austenite.Mo), Each(s => s.Austenite.V), Each(s => s.Austenite.W),
            Each(s => s.Carbides.Total), kinds, Each(s => s.MartensiteStartC), Each(s => s.RetainedAustenite), Each(s => s.HardnessHrc));
    }
}
