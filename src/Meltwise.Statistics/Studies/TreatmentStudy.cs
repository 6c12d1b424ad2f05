using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.MixedModels;
using Meltwise.Statistics.OneWay;

namespace Meltwise.Statistics.Studies;

/// <summary>Any set of treatments or groups compared at once: low against high temper, cold step or none, hold times, routes.</summary>
/// <remarks>
/// <para><b>Model.</b> z = group + heat + heat×group + load + e; heat, interaction and load random. The interaction enters where at least 3 heats met at
/// least 2 groups each, the load where it is recorded for every coupon and tells coupons apart.</para>
/// <para><b>Simultaneous intervals.</b> Differences to a control (Dunnett) or of all pairs (Tukey) with the critical value of the multivariate t
/// at the smallest Satterthwaite ν of the family. With one heat: all pairs or differences to the control by Games and Howell's intervals, all pairs with fewer than 5 coupons in a group by Dunnett's T3, and the claims are about that heat.</para>
/// <para><b>Limits.</b> At least 2 groups. Without heats named, every claim is about these coupons only. With 2 to 4 heats ν is small and the intervals are honest rather than short.</para>
/// <para><b>Source.</b> [Dunnett1955]; [HothornBretzWestfall2008]; [GamesHowell1976]; [Dunnett1980]; degrees of freedom [FaiCornelius1996].</para>
/// </remarks>
public static class TreatmentStudy
{
    private const int FewestForGamesHowell = 5;

    /// <summary>Analyses a study.</summary>
    /// <param name="readings">One reading a coupon, on the analysis scale.</param>
    /// <param name="plan">What is compared, at which margin.</param>
    /// <exception cref="InsufficientDataException">The study cannot carry the comparison; the message says what is missing.</exception>
    public static StudyResult Analyse(IReadOnlyList<StudyReading> readings, StudyPlan plan)
    {
        ArgumentNullException.ThrowIfNull(readings);
        ArgumentNullException.ThrowIfNull(plan);
        string[] groups = plan.OrderedGroups is { } order ? [.. order] : [.. readings.Select(r => r.Group).Distinct()];
        Require(readings, groups, plan);
        return readings.Select(r => r.Heat).Distinct().Count() == 1 ? OneHeat(readings, groups, plan) : ManyHeats(readings, groups, plan);
    }

    private static StudyResult ManyHeats(IReadOnlyList<StudyReading> readings, string[] groups, StudyPlan plan)
    {
        List<string> notes = [];
        MixedFit fit = LinearMixedModel.Fit([.. readings.Select(r => r.Value)],
            [.. groups.Select(g => (IReadOnlyList<double>)[.. readings.Select(r => r.Group == g ? 1.0 : 0.0)])], groups, Terms(readings, notes));
        notes.AddRange(fit.Notes);

        (int First, int Second)[] pairs = Pairs(groups, plan);
        MixedContrast[] contrasts = [.. pairs.Select(p => fit.Contrast(Weights(groups.Length, p), DegreesOfFreedomMethod.SatterthwaiteExpected))];
        double nu = Math.Max(1, contrasts.Min(c => c.DegreesOfFreedom));
        double[,] correlation = Correlation(fit.CoefficientCovariance, pairs);
        SimultaneousT family = new(correlation);
        double wide = family.TwoSidedCritical(plan.Alpha, nu), narrow = family.TwoSidedCritical(2 * plan.Alpha, nu);
        StudyComparison[] comparisons = [.. pairs.Select((p, i) =>
        {
            ComputedProbability tail = family.TwoSidedTail(Math.Abs(contrasts[i].T), nu);
            return new StudyComparison(groups[p.First], groups[p.Second], contrasts[i].Estimate, contrasts[i].StandardError, nu, wide * contrasts[i].StandardError, narrow * contrasts[i].StandardError, Math.Min(1, tail.Value), plan);
        })];
        StudyGroup[] means = [.. groups.Select((g, i) => new StudyGroup(g, readings.Count(r => r.Group == g), readings.Where(r => r.Group == g).Select(r => r.Heat).Distinct().Count(),
            fit.Coefficients[i], Math.Sqrt(fit.CoefficientCovariance[i, i])))];
        StudyTrend? trend = plan.OrderedGroups is null ? null : Trend(fit, TrendWeights(groups.Length, plan));
        string? beyond = plan.OrderedGroups is null || plan.MarginLow is null ? null : NoChangeBeyond(groups, plan, (a, b) =>
        {
            MixedContrast c = fit.Contrast(Weights(groups.Length, (a, b)), DegreesOfFreedomMethod.SatterthwaiteExpected);
            return (c.Estimate, StudentT.Quantile(1 - plan.Alpha, Math.Max(1, c.DegreesOfFreedom)) * c.StandardError);
        });
        StudyResult result = new(means, comparisons, fit.Components, trend, beyond, plan.Control is null ? "all pairs, multivariate t" : "against the control, multivariate t", notes);
        if (!plan.Diagnosed) return result;
        StudyDiagnostics diagnostics = StudyDiagnostics.Of(fit, readings, groups, comparisons);
        return result with { Notes = [.. notes, .. diagnostics.Notes], Influence = diagnostics.Influence, Suspects = diagnostics.Suspects };
    }

    private static StudyResult OneHeat(IReadOnlyList<StudyReading> readings, string[] groups, StudyPlan plan)
    {
        double[][] values = [.. groups.Select(g => readings.Where(r => r.Group == g).Select(r => r.Value).ToArray())];
        int control = plan.Control is null ? -1 : Array.IndexOf(groups, plan.Control);
        bool few = control < 0 && values.Min(v => v.Length) < FewestForGamesHowell;
        Func<double, IReadOnlyList<GroupDifference>> intervals = level => few ? PairwiseIntervals.T3(values, level) : PairwiseIntervals.GamesHowell(values, level);
        IReadOnlyList<GroupDifference> wide = intervals(1 - plan.Alpha), narrow = intervals(1 - 2 * plan.Alpha);
        List<StudyComparison> comparisons = [];
        for (int i = 0; i < wide.Count; i++)
        {
            GroupDifference w = wide[i];
            if (control >= 0 && w.First != control && w.Second != control) continue;
            bool turn = w.Second == control;
            comparisons.Add(new(groups[turn ? w.Second : w.First], groups[turn ? w.First : w.Second], turn ? -w.Difference : w.Difference, w.StandardError, w.DegreesOfFreedom,
                0.5 * (w.Upper - w.Lower), 0.5 * (narrow[i].Upper - narrow[i].Lower), w.P, plan));
        }
        StudyGroup[] means = [.. groups.Select((g, i) =>
        {
            double mean = values[i].Average();
            return new StudyGroup(g, values[i].Length, 1, mean, Math.Sqrt(values[i].Sum(v => (v - mean) * (v - mean)) / (values[i].Length - 1.0) / values[i].Length));
        })];
        string? beyond = plan.OrderedGroups is null || plan.MarginLow is null ? null : NoChangeBeyond(groups, plan, (a, b) =>
        {
            double va = means[a].StandardError * means[a].StandardError, vb = means[b].StandardError * means[b].StandardError;
            double nu = (va + vb) * (va + vb) / (va * va / (means[a].Coupons - 1) + vb * vb / (means[b].Coupons - 1));
            return (means[b].Mean - means[a].Mean, StudentT.Quantile(1 - plan.Alpha, nu) * Math.Sqrt(va + vb));
        });
        return new(means, comparisons, [], plan.OrderedGroups is null ? null : Trend(means, TrendWeights(groups.Length, plan)), beyond, few ? "pairs with their own variances (Dunnett's T3)" : "pairs with their own variances (Games and Howell)", ["One heat: every claim is about this heat and not about its grade or source."]);
    }

    /// <summary>From the top down: the lowest level from which on all pairs lie inside the margin; null where not even the two highest do.</summary>
    private static string? NoChangeBeyond(string[] groups, StudyPlan plan, Func<int, int, (double Estimate, double Half)> interval)
    {
        int level = groups.Length - 1;
        for (int j = groups.Length - 2; j >= 0; j--)
        {
            bool all = true;
            for (int k = j + 1; k < groups.Length && all; k++)
            {
                (double estimate, double half) = interval(j, k);
                all = estimate - half > plan.MarginLow && estimate + half < plan.MarginHigh;
            }
            if (!all) break;
            level = j;
        }
        return level == groups.Length - 1 ? null : groups[level];
    }

    /// <summary>Weights of the least-squares slope over the levels: (x − x̄)/Σ(x − x̄)².</summary>
    private static double[] TrendWeights(int levels, StudyPlan plan)
    {
        double[] x = plan.LevelValues is { } values ? [.. values] : [.. Enumerable.Range(0, levels).Select(i => (double)i)];
        double middle = x.Average(), squares = x.Sum(v => (v - middle) * (v - middle));
        return [.. x.Select(v => (v - middle) / squares)];
    }

    private static StudyTrend Trend(MixedFit fit, double[] weights)
    {
        MixedContrast c = fit.Contrast(weights, DegreesOfFreedomMethod.SatterthwaiteExpected);
        return new(c.Estimate, c.StandardError, Math.Max(1, c.DegreesOfFreedom));
    }

    /// <summary>The same with each group's own variance (one heat); ν by Satterthwaite.</summary>
    private static StudyTrend Trend(StudyGroup[] means, double[] weights)
    {
        double slope = 0, variance = 0, spread = 0;
        for (int i = 0; i < means.Length; i++)
        {
            double part = weights[i] * weights[i] * means[i].StandardError * means[i].StandardError;
            (slope, variance, spread) = (slope + weights[i] * means[i].Mean, variance + part, spread + part * part / (means[i].Coupons - 1));
        }
        return new(slope, Math.Sqrt(variance), variance * variance / spread);
    }

    private static List<RandomTerm> Terms(IReadOnlyList<StudyReading> readings, List<string> notes)
    {
        List<RandomTerm> terms = [RandomTerm.Of("heat", readings.Select(r => r.Heat))];
        int crossed = readings.GroupBy(r => r.Heat).Count(h => h.Select(r => r.Group).Distinct().Count() >= 2);
        RandomTerm cells = RandomTerm.Of("heat×group", readings.Select(r => r.Heat + "\t" + r.Group));
        if (crossed >= 3 && cells.Labels.Count < readings.Count && cells.Labels.Count > terms[0].Labels.Count) terms.Add(cells);
        else notes.Add("Heats are taken to answer all groups alike: fewer than 3 heats met at least 2 groups with repeats.");
        if (readings.All(r => r.Load is not null))
        {
            RandomTerm loads = RandomTerm.Of("load", readings.Select(r => r.Load!));
            if (loads.Labels.Count >= 2 && loads.Labels.Count < readings.Count) terms.Add(loads);
            if (readings.GroupBy(r => r.Load).All(l => l.Select(r => r.Group).Distinct().Count() == 1))
                notes.Add("Every load holds one group only, so a difference between loads goes into the difference between groups.");
        }
        else notes.Add("Loads are not recorded for every coupon and are left out of the model.");
        return terms;
    }

    private static (int First, int Second)[] Pairs(string[] groups, StudyPlan plan)
    {
        int control = plan.Control is null ? -1 : Array.IndexOf(groups, plan.Control);
        return control >= 0
            ? [.. Enumerable.Range(0, groups.Length).Where(i => i != control).Select(i => (control, i))]
            : [.. from i in Enumerable.Range(0, groups.Length) from j in Enumerable.Range(i + 1, groups.Length - i - 1) select (i, j)];
    }

    private static double[] Weights(int groups, (int First, int Second) pair)
    {
        double[] weights = new double[groups];
        weights[pair.First] = -1;
        weights[pair.Second] = 1;
        return weights;
    }

    private static double[,] Correlation(double[,] covariance, (int First, int Second)[] pairs)
    {
        double Between((int First, int Second) a, (int First, int Second) b) =>
            covariance[a.Second, b.Second] - covariance[a.Second, b.First] - covariance[a.First, b.Second] + covariance[a.First, b.First];
        double[,] correlation = new double[pairs.Length, pairs.Length];
        for (int i = 0; i < pairs.Length; i++)
            for (int j = 0; j < pairs.Length; j++)
                correlation[i, j] = i == j ? 1 : Between(pairs[i], pairs[j]) / Math.Sqrt(Between(pairs[i], pairs[i]) * Between(pairs[j], pairs[j]));
        return correlation;
    }

    private static void Require(IReadOnlyList<StudyReading> readings, string[] groups, StudyPlan plan)
    {
        if (groups.Length < 2) throw new InsufficientDataException($"A study needs at least 2 groups; got {groups.Length}.");
        foreach (string group in groups)
            if (!readings.Any(r => r.Group == group)) throw new InsufficientDataException($"Group '{group}' has no reading.");
        if (readings.FirstOrDefault(r => !groups.Contains(r.Group)) is { } stray)
            throw new InsufficientDataException($"Group '{stray.Group}' is not among the ordered levels {string.Join(", ", groups)}.");
        if (plan.LevelValues is { } values && (values.Count != groups.Length || values.Distinct().Count() < 2))
            throw new InsufficientDataException($"{values.Count} values were given for {groups.Length} ordered levels; each level needs its value, and not all may be equal.");
        if (plan.Control is { } control && !groups.Contains(control))
            throw new InsufficientDataException($"The control '{control}' is not among the groups {string.Join(", ", groups)}.");
    }
}
