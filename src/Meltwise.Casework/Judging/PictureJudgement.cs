using System.Globalization;
using Meltwise.Imaging;
using Meltwise.Statistics.Comparison;

namespace Meltwise.Casework.Judging;

/// <summary>Holds the pictures of two heats, measured alike, against a margin by the same decision table as the verdict.</summary>
/// <remarks>
/// <para><b>Formula.</b> Each field gives one value x. Fields are sub-samples of a mount: where every mount is known and a heat has two or more, the sample is the mean ln x of each mount, otherwise it is ln x of each field.
/// The effect is the mean of the candidate's sample less that of the reference's; its variance is s²/n of each sample added, degrees of freedom by Satterthwaite.
/// The 90 % interval decides agreement, the 95 % interval difference, both against ln of the margin. No quantity of a picture is better or worse in itself: outcomes are higher or lower.</para>
/// <para><b>Limits.</b> Fields are sub-samples: the outcome speaks for these mounts, not for other heats of the source. A quantity that is 0 in a field, or alike in all fields of a heat, has no outcome.
/// Quantities are judged one by one; the more of them, the likelier one errs.</para>
/// <para><b>Source.</b> B. L. Welch, Biometrika 34 (1947) 28-35, on logarithms; two one-sided tests: D. J. Schuirmann, J. Pharmacokinet. Biopharm. 15 (1987) 657-680.</para>
/// </remarks>
public static class PictureJudgement
{
    private const double Alpha = 0.05;

    /// <summary>Judges area fraction, count per area, mean, 95th percentile and largest diameter.</summary>
    /// <param name="pictures">Both heats' pictures, measured alike. The largest particle is judged over an equal number of fields of equal inspected area.</param>
    /// <param name="low">Lower limit of the ratio candidate over reference, above 0 and below 1.</param>
    /// <param name="high">Upper limit, above 1.</param>
    /// <param name="mountOf">Name of the mount of a picture file; null when nothing is known of mounts.</param>
    public static IReadOnlyList<JudgedQuantity> Judge(ComparedPictures pictures, double low, double high, Func<string, string>? mountOf = null)
    {
        ArgumentNullException.ThrowIfNull(pictures);
        (PictureFields r, PictureFields c) = (pictures.Reference, pictures.Candidate);
        LotFields Fields(PictureFields heat, IReadOnlyList<double> values, IReadOnlyList<int>? chosen = null) =>
            new(values, [.. (chosen is null ? heat.Images : chosen.Select(i => heat.Images[i])).Select(i => mountOf?.Invoke(i.File))]);
        JudgedQuantity Of(string name, Func<PictureFields, IReadOnlyList<double>> values) => Judge(name, Fields(r, values(r)), Fields(c, values(c)), low, high);
        return
        [
            Of("area fraction", f => f.AreaFraction),
            Of("particles per area", f => f.PerArea),
            Of("mean diameter", f => f.MeanDiameter),
            Of("diameter that 95 of 100 stay below", f => f.P95Diameter),
            Judge("largest particle of a field", Fields(r, pictures.ReferenceLargest, pictures.ReferenceLargestFields), Fields(c, pictures.CandidateLargest, pictures.CandidateLargestFields), low, high),
        ];
    }

    /// <summary>Judges one quantity of fields whose mounts are not known.</summary>
    /// <inheritdoc cref="Judge(string, LotFields, LotFields, double, double)"/>
    public static JudgedQuantity Judge(string name, IReadOnlyList<double> reference, IReadOnlyList<double> candidate, double low, double high) =>
        Judge(name, LotFields.WithoutMounts(reference), LotFields.WithoutMounts(candidate), low, high);

    /// <summary>Judges one quantity.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="reference">One value a field of the reference.</param>
    /// <param name="candidate">One value a field of the candidate.</param>
    /// <param name="low">Lower limit of the ratio, above 0 and below 1.</param>
    /// <param name="high">Upper limit, above 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The limits do not hold 1 between them.</exception>
    public static JudgedQuantity Judge(string name, LotFields reference, LotFields candidate, double low, double high)
    {
        ArgumentNullException.ThrowIfNull(reference);
        ArgumentNullException.ThrowIfNull(candidate);
        if (!(low is > 0 and < 1)) throw new ArgumentOutOfRangeException(nameof(low), low, "The lower limit of a ratio lies between 0 and 1.");
        if (!(high > 1 && double.IsFinite(high))) throw new ArgumentOutOfRangeException(nameof(high), high, "The upper limit of a ratio lies above 1.");
        JudgedQuantity open = new(name, reference.Values, candidate.Values, null, null, null, Outcome.NoVerdict, null) { Basis = $"{Basis(reference)}; {Basis(candidate)}" };
        if (Unusable(reference.Values, candidate.Values) is { } reason) return open with { Reason = reason };
        (double mr, VariancePart r) = Part("reference", Sample(reference));
        (double mc, VariancePart c) = Part("candidate", Sample(candidate));
        open = open with { Ratio = Math.Exp(mc - mr) };
        if (!(r.Variance > 0 && c.Variance > 0)) return open with { Reason = "all fields of a heat are alike, so nothing is known of their scatter" };
        ContrastEstimate contrast = ContrastEstimate.FromParts(mc - mr, [c, r]);
        (double Lower, double Upper) narrow = contrast.Interval(1 - 2 * Alpha), wide = contrast.Interval(1 - Alpha);
        return open with { Narrow = Ratios(narrow), Wide = Ratios(wide), Outcome = DecisionTable.Decide(wide, narrow, (Math.Log(low), Math.Log(high)), null) };
    }

    private static string? Unusable(IReadOnlyList<double> reference, IReadOnlyList<double> candidate)
    {
        if (reference.Count < 2 || candidate.Count < 2) return "fewer than two fields of a heat";
        return reference.Concat(candidate).All(v => v > 0) ? null : "a field without particles has no ratio";
    }

    private static string Basis(LotFields fields) => fields.ByMount is { } mounts
        ? string.Create(CultureInfo.InvariantCulture, $"{fields.Values.Count} fields of {mounts.Count} mounts")
        : string.Create(CultureInfo.InvariantCulture, $"{fields.Values.Count} fields, {(fields.Mounts.Any(m => m is null) ? "mounts not known" : "one mount")}");

    private static double[] Sample(LotFields fields) => fields.ByMount is { } mounts ? [.. mounts.Select(m => m.Average(v => Math.Log(v)))] : [.. fields.Values.Select(v => Math.Log(v))];

    private static (double Mean, VariancePart Part) Part(string name, double[] sample)
    {
        double mean = sample.Average(), variance = sample.Sum(v => (v - mean) * (v - mean)) / (sample.Length - 1);
        return (mean, new(name, variance / sample.Length, sample.Length - 1));
    }

    private static (double Lower, double Upper) Ratios((double Lower, double Upper) logs) => (Math.Exp(logs.Lower), Math.Exp(logs.Upper));
}

/// <summary>One quantity of two heats' pictures against the margin.</summary>
/// <param name="Name">The quantity.</param>
/// <param name="Reference">Its value in each field of the reference.</param>
/// <param name="Candidate">Its value in each field of the candidate.</param>
/// <param name="Ratio">Geometric mean of the candidate over that of the reference; null when there is none.</param>
/// <param name="Narrow">Its 90 % interval; null without a verdict.</param>
/// <param name="Wide">Its 95 % interval; null without a verdict.</param>
/// <param name="Outcome">What the two intervals say against the margin.</param>
/// <param name="Reason">Why there is no verdict, or null.</param>
public sealed record JudgedQuantity(string Name, IReadOnlyList<double> Reference, IReadOnlyList<double> Candidate, double? Ratio,
    (double Lower, double Upper)? Narrow, (double Lower, double Upper)? Wide, Outcome Outcome, string? Reason)
{
    /// <summary>What the sample of each heat is: its mounts, or its fields; reference first.</summary>
    public string? Basis { get; init; }
}
