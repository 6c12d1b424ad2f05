using Meltwise.Casework.Judging;

namespace Meltwise.Publishing.Tests;

/// <summary>An invented verdict of two invented lots: layout only, never a check of truth.</summary>
public static class InventedVerdict
{
    private static readonly (string Name, double J, double Hrc, string Load, int Order)[] s_reference =
    [
        ("D9K", 61.1, 62.5, "1", 11), ("X3H", 78.9, 62.8, "1", 15), ("H2F", 51.5, 62.9, "1", 18), ("H7K", 67.2, 62.7, "1", 20), ("T7X", 67.1, 62.9, "2", 1), ("T2V", 66.2, 62.6, "2", 2),
        ("X8R", 64.2, 62.6, "2", 8), ("V7D", 63.2, 62.9, "2", 16), ("N9F", 60.3, 62.7, "3", 5), ("R8B", 61.5, 62.9, "3", 12), ("B3X", 64.2, 62.5, "3", 21), ("P5N", 56.8, 62.5, "3", 24),
    ];

    private static readonly (string Name, double J, double Hrc, string Load, int Order)[] s_candidate =
    [
        ("K8P", 54.7, 63.9, "1", 10), ("C9W", 51.2, 63.6, "1", 13), ("B6P", 64.6, 64.0, "1", 14), ("F4R", 58.2, 63.9, "1", 17), ("M6T", 51.9, 64.0, "2", 3), ("W6C", 58.4, 63.8, "2", 7),
        ("V5M", 58.3, 63.5, "2", 9), ("W4V", 68.4, 63.6, "2", 22), ("R4T", 47.5, 63.5, "3", 4), ("K4D", 63.6, 64.1, "3", 6), ("N3C", 50.3, 63.7, "3", 19), ("D5M", 62.1, 64.0, "3", 23),
    ];

    /// <summary>The verdict.</summary>
    public static Verdict Make(string reference = "K17", string candidate = "M03", string referenceSource = "North", string candidateSource = "South") => new()
    {
        Rule = new()
        {
            Property = "impact energy",
            Unit = "J",
            Scale = "log",
            Estimand = "as-tested",
            Question = "equivalent",
            Scatter = "own",
            Alpha = 0.05,
            MarginKind = "ratio",
            MarginLow = 0.8,
            MarginHigh = 1.25,
            HigherIsBetter = true,
            Standing = "locked",
            LockedAtUtc = new DateTime(2026, 3, 3, 9, 14, 0, DateTimeKind.Utc),
            Digest = "7f3a91c05be208d47f3a91c05be208d47f3a91c05be208d47f3a91c05be208d4",
        },
        Stratum = new() { Property = "impact energy", Geometry = "unnotched 7×10×55", Orientation = "L", TestTemperatureC = 23, Condition = "unnotched 7×10×55, L, 23 °C" },
        Lots = [Lot("reference", reference, referenceSource, s_reference), Lot("candidate", candidate, candidateSource, s_candidate)],
        ScatterLaw = new() { Exponent = 1.12, Interval = new(0.8, 1.4), Source = "history", Groups = 41, DegreesOfFreedom = 160 },
        Suspects = [new("X3H", reference, 78.9, "leave-one-out", 0.02, 0, 0.021)],
        LeftOut = [new("R6D", reference, 48.8, "invalid", "mis-strike or wrong support", null, false)],
        AsTested = new()
        {
            Ratio = new(0.90, 0.82, 0.99, 0.95),
            RatioForMargin = new(0.90, 0.84, 0.97, 0.90),
            Difference = new(-6.3, -12.0, -0.6, 0.95, "J"),
            DegreesOfFreedom = 21.8,
            PDifference = 0.03,
            PEquivalence = 0.008,
            Outcome = Outcome.EquivalentDetectable,
            Answer = Answer.Yes,
            Method = "own variances",
            LogRatio = -0.105,
            StandardError = 0.045,
            Scatter = new(1.10, 0.59, 2.05, 0.7),
            Notes = ["Welch on the log scale, within furnace loads (Welch 1947)."],
        },
        EqualHardness = new()
        {
            Ratio = new(0.98, 0.89, 1.08, 0.95),
            RatioForMargin = new(0.98, 0.91, 1.06, 0.90),
            DegreesOfFreedom = 30,
            Outcome = Outcome.Equivalent,
            Answer = Answer.Yes,
            Heats = 41,
            Sources = 2,
            LogPerHrc = new(-0.074, 0.008, 38, -0.09, -0.058, "between heats"),
            PerHrc = new(-4.4, -5.4, -3.4, "J", 62.7),
            PerHrcOtherUnit = new(-3.2, -4.0, -2.5, "ft·lbf", 62.7),
            Attenuation = 0.94,
            HardnessDifference = 1.1,
            HeatToHeatSd = 0.06,
            ResidualSd = 0.1,
            HardnessRange = [60.0, 66.6],
            LotOffsets = new(new(0.04, 0.08, [-0.16, 0.16]), new(0.02, 0.08, [-0.16, 0.16])),
            Trend = new(63.2, Math.Log(60), 0.0002, -0.074, 0.008, 0.0036, 38),
        },
        Sources = new()
        {
            Ratio = new(0.98, 0.73, 1.32, 0.95),
            RatioForMargin = new(0.98, 0.76, 1.26, 0.90),
            Outcome = Outcome.Inconclusive,
            Answer = Answer.Open,
            Basis = "equal-hardness",
            CandidateSource = candidateSource,
            ReferenceSource = referenceSource,
            HeatsToSettle = new(6),
            HeatToHeatSd = 0.1,
            Note = "One heat from each source was tested; source and heat cannot be separated.",
        },
        LeaveOneOut = new Dictionary<string, Outcome> { [$"{reference} X3H"] = Outcome.Equivalent },
        Variants = new(6, 8, new Dictionary<string, Outcome>
        {
            ["any one coupon left out"] = Outcome.Equivalent,
            ["arithmetic means"] = Outcome.EquivalentDetectable,
            ["pooled variance"] = Outcome.EquivalentDetectable,
            ["lent scatter"] = Outcome.EquivalentDetectable,
            ["20 % trimmed means"] = Outcome.Equivalent,
            ["studentized permutation"] = Outcome.EquivalentDetectable,
            ["power of the scatter law"] = Outcome.EquivalentDetectable,
            ["loads ignored"] = Outcome.EquivalentDetectable,
        }),
        Finding = new()
        {
            Outcome = Outcome.EquivalentDetectable,
            Answer = Answer.Yes,
            Text = $"For impact energy at unnotched 7×10×55, L, 23 °C, a small difference was detected ({candidate} lower by 10 %), smaller than the margin of 0.80 to 1.25 agreed before testing.",
            MayClaim =
            [
                $"{reference} and {candidate} are interchangeable for this property in this condition, within 0.80 to 1.25; risk at most 5 % if the model holds.",
                $"{candidate} is the lower of the two, by an amount too small to act on under the agreed rule.",
            ],
            MayNotClaim = ["That the two are the same steel, or alike in wear, grinding or fatigue.", $"Anything about later heats of {candidateSource}.", "“Worse”, without the margin in the same sentence."],
            Firmness = "The same outcome under 6 of 8 other choices.",
        },
        Notes = ["One heat from each source was tested; source and heat cannot be separated.", "Three furnace loads held both lots; the comparison is within loads."],
        Reproduction = new("0.1.0", "c0ffee1dc0ffee1dc0ffee1dc0ffee1dc0ffee1dc0ffee1dc0ffee1dc0ffee1d", "0ddba11d0ddba11d0ddba11d0ddba11d0ddba11d0ddba11d0ddba11d0ddba11d", 20260305, "7f3a91c05be208d4"),
    };

    private static Lot Lot(string role, string heat, string source, (string Name, double J, double Hrc, string Load, int Order)[] coupons)
    {
        double[] values = [.. coupons.Select(c => c.J)];
        double logMean = values.Average(Math.Log), logSd = Math.Sqrt(values.Sum(v => Math.Pow(Math.Log(v) - logMean, 2)) / (values.Length - 1));
        double mean = values.Average(), sd = Math.Sqrt(values.Sum(v => Math.Pow(v - mean, 2)) / (values.Length - 1));
        return new()
        {
            Heat = [heat],
            Role = role,
            Source = source,
            N = values.Length,
            NCompared = values.Length,
            Mean = mean,
            Sd = sd,
            GeometricMean = Math.Exp(logMean),
            LogSd = logSd,
            HardnessMean = coupons.Average(c => c.Hrc),
            Range = [values.Min(), values.Max()],
            Coupons = [.. coupons.Select(c => new CouponPoint(c.Name, heat, c.J, c.Hrc, c.Load, c.Order, null))],
        };
    }
}
