using System.Globalization;
using Meltwise.Metallurgy.Sources;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Metallurgy.Oxides;

/// <summary>Where a heat's oxygen stands among the bench's heats of its route.</summary>
public enum OxygenStanding
{
    /// <summary>Too few heats of the route to say.</summary>
    TooFewHeats,
    /// <summary>Below the lower limit: lower than almost all heats of the route.</summary>
    Low,
    /// <summary>Between the limits.</summary>
    Usual,
    /// <summary>Above the upper limit: higher than almost all heats of the route.</summary>
    High,
}

/// <summary>Rank of a heat's oxygen within the bench's history of its route, against one-sided tolerance limits and not as a rank alone.</summary>
/// <remarks>
/// <para><b>Formula.</b> Oxygen is taken as log-normal. With mean m and standard deviation s of ln(ppm) over n heats, the limits are exp(m ± k s), k = t'(γ; n - 1,
/// z_p √n) / √n with the noncentral t: with confidence γ at least the share p of all heats of the route lies on the inner side of each limit.</para>
/// <para><b>Assumptions.</b> The heats are a fair sample of the route; their measurement errors are part of the spread.</para>
/// <para><b>Range.</b> Five heats or more; fewer give a rank and no limits.</para>
/// <para><b>Source.</b> ISO 16269-6:2014; Owen (1963), one-sided factors; from memory.</para>
/// </remarks>
public static class OxygenRank
{
    /// <summary>Fewest heats for limits.</summary>
    public const int FewestHeats = 5;

    /// <summary>The source.</summary>
    public static Source Source { get; } = new("ISO 16269-6:2014, one-sided statistical tolerance limits, on ln(ppm)", SourceStatus.FromMemory);

    /// <summary>One-sided tolerance factor.</summary>
    /// <param name="heats">Number of heats, 2 or more.</param>
    /// <param name="share">Share of the route on the inner side, such as 0.95.</param>
    /// <param name="confidence">Confidence, such as 0.95.</param>
    public static double Factor(int heats, double share, double confidence) =>
        NoncentralT.Quantile(confidence, heats - 1, Normal.Quantile(share) * Math.Sqrt(heats)) / Math.Sqrt(heats);

    /// <summary>Ranks a heat.</summary>
    /// <param name="oxygenPpm">The heat's total oxygen, ppm by mass.</param>
    /// <param name="historyPpm">Total oxygen of the bench's other heats of the same route.</param>
    /// <param name="share">Share of the route that a limit leaves on its inner side.</param>
    /// <param name="confidence">Confidence of that.</param>
    /// <exception cref="OutsideModelRangeException">An oxygen content that is not above 0, a share or a confidence outside 0.5 to 0.999.</exception>
    public static OxygenRankResult Of(double oxygenPpm, IReadOnlyList<double> historyPpm, double share = 0.95, double confidence = 0.95)
    {
        ArgumentNullException.ThrowIfNull(historyPpm);
        foreach (double ppm in (double[])[oxygenPpm, .. historyPpm])
            if (!(ppm is > 0 and <= 5000)) throw new OutsideModelRangeException("Oxygen rank", "total oxygen", ppm, 0, 5000, "ppm");
        if (!(share is >= 0.5 and <= 0.999)) throw new OutsideModelRangeException("Oxygen rank", "share of the route", share, 0.5, 0.999, "");
        if (!(confidence is >= 0.5 and <= 0.999)) throw new OutsideModelRangeException("Oxygen rank", "confidence", confidence, 0.5, 0.999, "");

        int n = historyPpm.Count, below = historyPpm.Count(p => p < oxygenPpm), equal = historyPpm.Count(p => p.Equals(oxygenPpm));
        string rank = string.Create(CultureInfo.InvariantCulture, $"{below} of {n} heats of this route have less oxygen{(equal > 0 ? $", {equal} the same" : "")}.");
        if (n < FewestHeats)
            return new(oxygenPpm, n, below, null, null, OxygenStanding.TooFewHeats, Source,
                [rank, $"Fewer than {FewestHeats} heats: no limits, a rank only."]);

        double[] logs = [.. historyPpm.Select(p => Math.Log(p))];
        double mean = logs.Average(), sd = Math.Sqrt(logs.Sum(l => (l - mean) * (l - mean)) / (n - 1));
        double k = Factor(n, share, confidence);
        double lower = Math.Exp(mean - k * sd), upper = Math.Exp(mean + k * sd);
        OxygenStanding standing = oxygenPpm < lower ? OxygenStanding.Low : oxygenPpm > upper ? OxygenStanding.High : OxygenStanding.Usual;
        return new(oxygenPpm, n, below, lower, upper, standing, Source,
        [
            rank,
            string.Create(CultureInfo.InvariantCulture, $"Limits {lower:0} and {upper:0} ppm: each leaves at least {share:P0} of the route on its inner side, confidence {confidence:P0}, log-normal."),
            "Lower total oxygen matters only where the largest oxides start fracture.",
        ]);
    }
}

/// <summary>Rank of a heat's oxygen.</summary>
/// <param name="OxygenPpm">The heat, ppm by mass.</param>
/// <param name="Heats">Heats it was ranked among.</param>
/// <param name="HeatsWithLess">Of these, with less.</param>
/// <param name="LowerPpm">Lower limit, or null.</param>
/// <param name="UpperPpm">Upper limit, or null.</param>
/// <param name="Standing">Low, usual or high for the route.</param>
/// <param name="Source">The method's source.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record OxygenRankResult(
    double OxygenPpm, int Heats, int HeatsWithLess, double? LowerPpm, double? UpperPpm, OxygenStanding Standing, Source Source, IReadOnlyList<string> Notes);
