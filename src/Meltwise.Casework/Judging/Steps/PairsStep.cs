using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.MetaAnalysis;

namespace Meltwise.Casework.Judging;

/// <summary>Step 6: all pairs ever tested, one effect for each locked enquiry.</summary>
internal static class PairsStep
{
    private const int FewestPairs = 3, FewPairs = 5;
    private const double Level = 0.95;

    /// <summary>Joins the earlier pairs and this one; null when there is no earlier pair or the property has no ratio.</summary>
    public static AllPairs? Of(IReadOnlyList<EarlierPair> earlier, EarlierPair? own, ResolvedRule rule)
    {
        if (earlier.Count == 0 || !rule.IsLog || rule.Low <= 0) return null;
        (string? orientation, List<EarlierPair> pairs) = PairOrientation.Of([.. earlier, .. own is null ? [] : new[] { own }]);
        bool oneOrientation = orientation is not null;
        (double low, double high) = rule.Limits;
        AllPairs all = new()
        {
            Count = pairs.Count,
            Pairs = [.. pairs.Select(Effect)],
            OneOrientation = oneOrientation,
            Orientation = orientation,
            ShareInsideMargin = (double)pairs.Count(p => p.LogRatio > low && p.LogRatio < high) / pairs.Count,
        };
        if (pairs.Count < FewestPairs) return all with { Notes = [$"{pairs.Count} pairs: at least {FewestPairs} are needed for a mean or a spread."] };

        CorrelatedEffectsMean fit = CorrelatedEffectsMean.Fit([.. pairs.Select(p => p.LogRatio)], Covariance(pairs), aboutZero: !oneOrientation);
        List<string> notes = ["One effect for each locked enquiry, at equal hardness where that was not refused; pairs that share a lot are correlated by its variance; restricted maximum likelihood, Hartung-Knapp."];
        if (pairs.Count < FewPairs) notes.Add($"Only {pairs.Count} pairs: the spread between them is hardly known.");
        if (!oneOrientation)
            return all with { Tau = Math.Sqrt(fit.TauSquared), Notes = [.. notes, "The pairs are not all of the same two sources, of the same two routes, or of a newcomer and an incumbent, so candidate over reference has no common meaning: no mean is given, only the spread about no difference and the share of pairs inside the margin."] };
        notes.Add($"The mean is of {orientation}; a pair that was compared the other way round is turned.");
        return all with { Mean = Ratio(fit.Mean, fit.Interval(Level)), Prediction = Ratio(fit.Mean, fit.Prediction(Level)), Tau = Math.Sqrt(fit.TauSquared), Notes = notes };
    }

    /// <summary>The effect of a verdict, at equal hardness where that stands; null when it has none.</summary>
    public static EarlierPair? EffectOf(Verdict verdict, string enquiry)
    {
        EqualHardness? b = verdict.EqualHardness is { Stands: true, LogRatio: not null } stands ? stands : null;
        // Lots over a temper ladder are not compared as tested; their parts are then those of the ladder.
        EstimandResult? a = verdict.AsTested is { Stands: true, LogRatio: not null } tested ? tested : b is { Ladder: not null } ? b : null;
        if (a is not { VarianceParts: { } parts } || verdict.Lots is not [var reference, var candidate]) return null;
        bool atEqualHardness = b is not null;
        EstimandResult effect = b ?? a;
        return new(enquiry, candidate.Source, reference.Source, string.Join(", ", candidate.Heat), string.Join(", ", reference.Heat), effect.LogRatio!.Value,
            effect.StandardError!.Value * effect.StandardError.Value, parts.GetValueOrDefault("candidate"), parts.GetValueOrDefault("reference"), atEqualHardness)
        {
            CandidateRoute = candidate.Route,
            ReferenceRoute = reference.Route,
            CandidateIsNewcomer = candidate.OtherHeatsOfSource is { } ofCandidate ? ofCandidate == 0 : null,
            ReferenceIsNewcomer = reference.OtherHeatsOfSource is { } ofReference ? ofReference == 0 : null,
        };
    }

    private static double[,] Covariance(List<EarlierPair> pairs)
    {
        double[,] v = new double[pairs.Count, pairs.Count];
        for (int i = 0; i < pairs.Count; i++)
        {
            v[i, i] = pairs[i].Variance;
            for (int j = 0; j < i; j++) v[i, j] = v[j, i] = Shared(pairs[i], pairs[j]);
        }
        return v;
    }

    private static double Shared(EarlierPair a, EarlierPair b)
    {
        double sum = 0;
        if (a.CandidateHeat == b.CandidateHeat) sum += Math.Min(a.CandidateVariance, b.CandidateVariance);
        if (a.ReferenceHeat == b.ReferenceHeat) sum += Math.Min(a.ReferenceVariance, b.ReferenceVariance);
        if (a.CandidateHeat == b.ReferenceHeat) sum -= Math.Min(a.CandidateVariance, b.ReferenceVariance);
        if (a.ReferenceHeat == b.CandidateHeat) sum -= Math.Min(a.ReferenceVariance, b.CandidateVariance);
        return sum;
    }

    private static PairEffect Effect(EarlierPair pair)
    {
        double half = Normal.Quantile(0.5 + Level / 2) * Math.Sqrt(pair.Variance);
        return new(pair.Enquiry, Math.Exp(pair.LogRatio), Math.Exp(pair.LogRatio - half), Math.Exp(pair.LogRatio + half), pair.AtEqualHardness);
    }

    private static RatioInterval Ratio(double estimate, (double Lower, double Upper) interval) => new(Math.Exp(estimate), Math.Exp(interval.Lower), Math.Exp(interval.Upper), Level);
}
