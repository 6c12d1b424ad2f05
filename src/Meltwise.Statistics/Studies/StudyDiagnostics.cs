using System.Globalization;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.MixedModels;

namespace Meltwise.Statistics.Studies;

/// <summary>What to look at in a study before its comparisons are believed: groups that scatter differently, single heats that carry a difference, readings far from their heat and group.</summary>
/// <remarks>
/// <para><b>Formula.</b> Scatter: twice the gain of the restricted likelihood when each group has a residual standard deviation of its own, against χ² with groups − 1 degrees of freedom.
/// Influence: the model refitted without each heat, the comparison that moves most in its own standard errors. Suspects: conditional residuals over their own standard errors, beyond 3.</para>
/// <para><b>Limits.</b> Up to 200 coupons; scatter from 3 coupons in every group. Nothing is left out and no comparison changes: with scatters in the ratio 1 to 4 the family of comparisons still errs in no more than 6 % by simulation (bench/results/calibrate-studies.md).</para>
/// <para><b>Source.</b> [PinheiroBates2000], 4.3 and 5.2.</para>
/// </remarks>
internal sealed class StudyDiagnostics
{
    private const int MostCoupons = 200, FewestInGroup = 3;
    private const double Level = 0.05, FarOut = 3, WorthAWord = 1;
    private readonly List<string> _notes = [];

    private StudyDiagnostics() { }

    public IReadOnlyList<HeatInfluence> Influence { get; private set; } = [];

    public IReadOnlyList<SuspectReading> Suspects { get; private set; } = [];

    public IReadOnlyList<string> Notes => _notes;

    public static StudyDiagnostics Of(MixedFit fit, IReadOnlyList<StudyReading> readings, string[] groups, IReadOnlyList<StudyComparison> comparisons)
    {
        StudyDiagnostics diagnostics = new();
        if (readings.Count > MostCoupons) return diagnostics;
        RandomCoefficients[] terms = [.. fit.Data.Terms.Select(t => new RandomCoefficients(t))];
        UnequalScatterFit alike = UnequalScatterModel.Fit(fit.Readings, fit.Design, fit.CoefficientNames, terms, new ScatterModel.Constant());
        if (readings.CountBy(r => r.Group).All(g => g.Value >= FewestInGroup)) diagnostics.CompareScatter(fit, alike, readings, groups, terms);
        diagnostics.FindSuspects(alike, readings);
        diagnostics.FindInfluence(fit, groups, comparisons);
        return diagnostics;
    }

    private void CompareScatter(MixedFit fit, UnequalScatterFit alike, IReadOnlyList<StudyReading> readings, string[] groups, RandomCoefficients[] terms)
    {
        UnequalScatterFit own;
        try
        {
            RandomTerm byGroup = new("group", [.. readings.Select(r => Array.IndexOf(groups, r.Group))], groups);
            own = UnequalScatterModel.Fit(fit.Readings, fit.Design, fit.CoefficientNames, terms, new ScatterModel.ByGroup(byGroup));
        }
        catch (InsufficientDataException)
        {
            return;
        }
        double p = ChiSquared.UpperTail(Math.Max(0, 2 * (own.LogLikelihood - alike.LogLikelihood)), groups.Length - 1);
        if (p >= Level) return;
        double[] scatter = [.. groups.Select(g => own.ScatterOfReadings[Enumerable.Range(0, readings.Count).First(i => readings[i].Group == g)])];
        int least = Array.IndexOf(scatter, scatter.Min()), most = Array.IndexOf(scatter, scatter.Max());
        _notes.Add(string.Create(CultureInfo.InvariantCulture,
            $"The groups scatter differently within a heat (likelihood ratio, p = {p:G2}): standard deviation {scatter[least]:G2} in {groups[least]}, {scatter[most]:G2} in {groups[most]}. The comparisons use one scatter for all; as a family they still hold their error rate."));
    }

    private void FindSuspects(UnequalScatterFit alike, IReadOnlyList<StudyReading> readings)
    {
        Suspects = [.. alike.StudentizedResiduals.Select((r, i) => new SuspectReading(i, readings[i].Group, readings[i].Heat, r))
            .Where(s => Math.Abs(s.StudentizedResidual) > FarOut).OrderByDescending(s => Math.Abs(s.StudentizedResidual))];
        if (Suspects.Count > 0)
            _notes.Add(string.Create(CultureInfo.InvariantCulture,
                $"{Suspects.Count} of {readings.Count} readings {(Suspects.Count == 1 ? "lies" : "lie")} more than {FarOut} standard errors from the level of heat and group, the farthest in {Suspects[0].Group} of heat {Suspects[0].Heat} ({Suspects[0].StudentizedResidual:F1}). Nothing is left out by a test."));
    }

    private void FindInfluence(MixedFit fit, string[] groups, IReadOnlyList<StudyComparison> comparisons)
    {
        List<HeatInfluence> influence = [];
        foreach ((string heat, double[]? rest) in MixedDiagnostics.WithoutEachLevel(fit, 0))
        {
            if (rest is null) continue;
            double Change(StudyComparison c)
            {
                (int first, int second) = (Array.IndexOf(groups, c.First), Array.IndexOf(groups, c.Second));
                return rest[second] - rest[first] - (fit.Coefficients[second] - fit.Coefficients[first]);
            }
            StudyComparison most = comparisons.MaxBy(c => Math.Abs(Change(c) / c.StandardError))!;
            influence.Add(new(heat, most.First, most.Second, Change(most), Change(most) / most.StandardError));
        }
        influence.Sort((a, b) => Math.Abs(b.InStandardErrors).CompareTo(Math.Abs(a.InStandardErrors)));
        Influence = influence;
        if (influence.Count > 0 && Math.Abs(influence[0].InStandardErrors) > WorthAWord)
            _notes.Add(string.Create(CultureInfo.InvariantCulture,
                $"Without heat {influence[0].Heat} the difference of {influence[0].Second} to {influence[0].First} changes by {Math.Abs(influence[0].InStandardErrors):F1} of its standard errors, the most of all heats."));
    }
}
