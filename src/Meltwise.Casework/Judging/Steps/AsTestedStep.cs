using Meltwise.Domain;
using Meltwise.Statistics.Comparison;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Casework.Judging;

/// <summary>Step 3: these two lots, as tested.</summary>
internal sealed class AsTestedStep
{
    private readonly LotData _lots;
    private readonly ResolvedRule _rule;

    public AsTestedStep(LotData lots, ScatterStep scatter)
    {
        _lots = lots;
        _rule = lots.Rule;
        Contrast = lots.Contrast(lots.Z)!;
        Parts = [.. Contrast.Scatter.Select(s => s.Part)];
        if (_rule.Rule.Scatter != ScatterChoice.Lent) return;
        (Lent, IReadOnlyList<VariancePart>? moderated) = scatter.Lend(Contrast);
        Parts = moderated ?? Parts;
    }

    /// <summary>The contrast on the analysis scale, with own variances.</summary>
    public LotContrast Contrast { get; }

    /// <summary>Variance parts that enter: own, or moderated by the law.</summary>
    public IReadOnlyList<VariancePart> Parts { get; }

    /// <summary>What lending did, where the rule asks for it.</summary>
    public LentScatter? Lent { get; }

    public bool HasScatter => Parts.All(p => p.Variance > 0 && p.DegreesOfFreedom > 0);

    /// <summary>Judges the contrast on the analysis scale against a rule whose ratio limits are known.</summary>
    public JudgedContrast Judge(ResolvedRule rule) => JudgedContrast.From(Contrast.Estimate, Parts, rule);

    /// <summary>The full result; the outcome of an absolute margin on a log scale is that of the arithmetic means.</summary>
    public AsTested Result(JudgedContrast judged, ScatterStep scatter)
    {
        AsTested result = new(judged)
        {
            Method = Contrast.Kind switch { LotContrastKind.CommonResidual => "common residual", LotContrastKind.HeatsEqual => "heats weigh equally", _ => "own variances" },
            LoadWeights = Contrast.LoadWeights.Count == 0 ? null : Contrast.LoadWeights.Select((w, l) => (Name: _lots.Loads[l], Weight: w)).ToDictionary(p => p.Name, p => p.Weight),
            Scatter = CompareScatter(scatter.EstimatedExponent ?? 1),
            LowestOfSeveral = Lowest(scatter),
            Notes = Notes(),
        };
        if (!_rule.IsLog) return result;
        (JudgedContrast raw, DifferenceInterval wide, DifferenceInterval narrow) = Arithmetic();
        result = result with { Difference = wide };
        return _rule.Kind != MarginKind.Absolute ? result : result with
        {
            DifferenceForMargin = narrow,
            PDifference = raw.PDifference,
            PEquivalence = raw.PEquivalence,
            Outcome = raw.Outcome,
            Answer = raw.Answer,
        };
    }

    /// <summary>The same formulae on the readings themselves, judged against ± the absolute margin.</summary>
    public (JudgedContrast Judged, DifferenceInterval Wide, DifferenceInterval Narrow) Arithmetic()
    {
        LotContrast raw = _lots.Contrast(_lots.Y)!;
        JudgedContrast judged = JudgedContrast.Against((-_rule.PlusMinus, _rule.PlusMinus), raw.Own, [.. raw.Scatter.Select(s => s.Part)], _rule);
        double level = 1 - _rule.Alpha, narrow = 1 - 2 * _rule.Alpha;
        return (judged, new(raw.Estimate, judged.Wide.Lower, judged.Wide.Upper, level, _rule.Unit, judged.Estimate.DegreesOfFreedom),
            new(raw.Estimate, judged.Narrow.Lower, judged.Narrow.Upper, narrow, _rule.Unit));
    }

    private ScatterComparison? CompareScatter(double exponent)
    {
        if (Contrast.Kind != LotContrastKind.OwnVariances || !Contrast.HasScatter) return null;
        LotScatter c = Contrast.Scatter[0], r = Contrast.Scatter[1];
        double meanRatio = _rule.IsLog ? Math.Exp(2 * (exponent - 1) * (_lots.Mean(_lots.Z, true) - _lots.Mean(_lots.Z, false))) : 1;
        ScatterRatio ratio = ScatterRatio.Of(c.Variance / r.Variance / meanRatio, c.DegreesOfFreedom, r.DegreesOfFreedom);
        double? p = _lots.Loads.Count == 1 ? BrownForsythe.Test(_lots.Of(_lots.Z, true), _lots.Of(_lots.Z, false))?.P : null;
        return new(ratio.Ratio, ratio.Lower, ratio.Upper, p);
    }

    /// <summary>Chance of a lowest of n as low as seen, for the law's scatter about the lot's own mean.</summary>
    private List<LowestCoupon> Lowest(ScatterStep scatter)
    {
        List<LowestCoupon> lowest = [];
        if (scatter.Law is not { } law) return lowest;
        foreach (bool candidate in new[] { false, true })
        {
            double[] z = _lots.Of(_lots.Z, candidate), y = _lots.Of(_lots.Y, candidate);
            double mean = z.Average(), below = Normal.Cdf((z.Min() - mean) / Math.Sqrt(law.VarianceAt(mean)));
            lowest.Add(new(candidate ? "candidate" : "reference", y.Min(), 1 - Math.Pow(1 - below, z.Length)));
        }
        return lowest;
    }

    private List<string> Notes()
    {
        List<string> notes = [];
        string scale = _rule.IsLog ? "on logarithms" : "on the readings as they are";
        notes.Add(Contrast.Kind switch
        {
            LotContrastKind.CommonResidual => $"One residual variance of lot and load for both lots {scale}, because a lot has too few repeats within loads.",
            LotContrastKind.HeatsEqual => $"Heats of a role weigh equally, each with its own variance {scale}; furnace loads are not used; the answer is about these heats.",
            _ when _lots.Loads.Count > 1 => $"Lots compared within furnace loads, each with its own variance {scale} (Welch 1947; Satterthwaite 1946).",
            _ => $"Welch's test {scale} (Welch 1947), two one-sided tests against the margin (Schuirmann 1987).",
        });
        if (_lots.LoadsPartlyRecorded) notes.Add("Furnace loads are not recorded for every coupon, so they are not used.");
        else if (!_lots.LoadsRecorded) notes.Add("Furnace loads are not recorded: a difference between loads would count as a difference between lots.");
        int idle = Contrast.Coefficients.Count(c => c == 0);
        if (idle > 0) notes.Add($"{idle} coupons lie in loads that hold one lot only and do not enter.");
        return notes;
    }
}
