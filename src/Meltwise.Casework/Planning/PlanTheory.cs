using System.Globalization;
using Meltwise.Domain;
using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.Equivalence;

namespace Meltwise.Casework.Planning;

/// <summary>What normal theory says of a plan without any simulation: the chance of yes where a closed answer exists, and the smallest difference that would be shown.</summary>
/// <remarks>
/// <para><b>Formula.</b> As tested with equal variances V = 2s²/n and ν = 2(n − loads): two one-sided tests by [Owen1965], one-sided and two-sided claims by the noncentral t.
/// Over a temper ladder of both lots V = s²(2/N_lot + ΔH²/S_xx) and ν = N − 3, times the chance that parallel lines pass for parallel.
/// The smallest difference is the one that the wide interval excludes with a chance of 0.8; parts of V as in the verdict, ν by [Satterthwaite1946].</para>
/// <para><b>Limits.</b> The verdict keeps each lot's own variance (Welch), so its odds differ a little below six coupons. The hardness of the levels of a ladder is taken as read without error.</para>
/// </remarks>
internal static class PlanTheory
{
    private const double Shown = 0.8;

    public static double WantedAt(PlanRequest r)
    {
        if (r.WantedAt is { } asked) return asked;
        (double low, double high) = Limits(r);
        double side = r.HigherIsBetter == false ? low : high;
        double at = r.Question switch { Question.Better => 2 * side, Question.Difference => side, _ => 0 };
        return r.Logarithmic ? Math.Exp(at) : at;
    }

    /// <summary>The margin on the analysis scale, as far as it is known before a coupon is broken.</summary>
    public static (double Low, double High) Limits(PlanRequest r) => r.MarginIn switch
    {
        PlanMargin.Unit when r.ReferenceMean > r.MarginHigh => (Math.Log(1 - r.MarginHigh / r.ReferenceMean.Value), Math.Log(1 + r.MarginHigh / r.ReferenceMean.Value)),
        PlanMargin.Unit => throw new PlanFaultException("A margin in the unit of the property needs the mean that is expected of the reference, above the margin."),
        PlanMargin.Hardness when (r.Ladder?.Slope ?? r.Trend?.Slope) is { } slope => (-r.MarginHigh * Math.Abs(slope), r.MarginHigh * Math.Abs(slope)),
        PlanMargin.Hardness => throw new PlanRefusedException("no-history", "A margin in hardness needs the trend of the property with hardness; there is none to plan with."),
        _ => (Scale(r, r.MarginLow), Scale(r, r.MarginHigh)),
    };

    /// <summary>Chance of yes, or null where no closed answer exists.</summary>
    public static double? Yes(PlanRequest r, PlanDesign d, double truth)
    {
        bool balanced = r.Ladder is { } ladder ? ladder.SlopeDifference == 0 && r.LoadSd == 0 : d.Estimand == Estimand.AsTested && d.Heats == 1 && d.Coupons % d.Loads == 0 && (d.Coupons - d.Loads >= 2 || d.Loads == 1);
        bool closed = d.Gate is null && balanced && r is
        {
            MarginIn: PlanMargin.Scale, WithinHeatSdDf: null, CandidateWithinHeatSd: null, Law: null, Scatter: ScatterChoice.Own, Extension: null, Flaws: null,
        };
        if (!closed) return null;
        (double low, double high) = Limits(r);
        (double variance, double nu) = r.Ladder is { } l ? OverLadder(r, l, d.Coupons) : (2 * r.WithinHeatSd * r.WithinHeatSd / d.Coupons, 2 * (d.Coupons - d.Loads));
        // Whether parallel lines pass for parallel depends on the shape of the residuals alone, which is independent of their size and of the contrast.
        double se = Math.Sqrt(variance), theta = Scale(r, truth), stands = r.Ladder is null ? 1 : 1 - SimulatedLadder.ParallelAlpha;
        if (r.HigherIsBetter == false) (low, high, theta) = (-high, -low, -theta);
        double narrow = StudentT.Quantile(1 - r.Alpha, nu), wide = StudentT.Quantile(1 - r.Alpha / 2, nu);
        return stands * (r.Question switch
        {
            Question.NotWorse => NoncentralT.UpperTail(narrow, nu, (theta - low) / se),
            Question.Better => NoncentralT.UpperTail(wide, nu, (theta - high) / se),
            Question.Difference => NoncentralT.UpperTail(wide, nu, theta / se) + NoncentralT.UpperTail(wide, nu, -theta / se),
            _ => EquivalencePower.Of(se, nu, theta, low, high, r.Alpha),
        });
    }

    /// <summary>The difference shown with a chance of 0.8, as a ratio on a logarithmic scale.</summary>
    public static double SmallestDetectable(PlanRequest r, PlanDesign d)
    {
        if (d.Gate is not null) return double.PositiveInfinity;
        (double variance, double nu) = Expected(r, d);
        if (nu < 1) return double.PositiveInfinity;
        double alpha = r.Extension is null ? r.Alpha : r.Alpha / 2, critical = StudentT.Quantile(1 - (r.Question == Question.NotWorse ? alpha : alpha / 2), nu);
        (double low, double high) = (0, 4 * critical + 4);
        for (int i = 0; i < 60; i++)
        {
            double middle = 0.5 * (low + high);
            if (NoncentralT.UpperTail(critical, nu, middle) < Shown) low = middle; else high = middle;
        }
        double difference = high * Math.Sqrt(variance);
        return r.Logarithmic ? Math.Exp(difference) : difference;
    }

    /// <summary>Why no plan can answer; null when one can.</summary>
    /// <param name="r">The request of one property.</param>
    /// <param name="smallest">Smallest difference that any plan would show.</param>
    /// <param name="named">True to name the property.</param>
    public static string? CannotAnswer(PlanRequest r, double smallest, bool named)
    {
        (double low, double high) = Limits(r);
        double wider = Math.Max(high, -low), limit = r.Logarithmic ? Math.Exp(wider) : wider;
        if (smallest <= limit) return null;
        string what = r.Logarithmic ? "ratio" : "difference";
        string found = double.IsFinite(smallest) ? string.Create(CultureInfo.InvariantCulture, $"is {smallest:G4}, beyond the margin {limit:G4}") : "cannot even be estimated";
        return $"The test cannot answer the question{(named ? $" in {r.Property}" : "")}: the smallest {what} that any of these plans would show (chance 0.8) {found}. Break more coupons, take more heats, choose a property that scatters less, or agree a wider margin.";
    }

    /// <summary>Over a ladder of both lots with levels of known hardness: V = s²(2/N_lot + ΔH²/S_xx), ν = N − 3.</summary>
    private static (double Variance, double Nu) OverLadder(PlanRequest r, PlannedLadder ladder, int coupons) =>
        (r.WithinHeatSd * r.WithinHeatSd * (2.0 / (ladder.Levels * coupons) + ladder.HardnessDifference * ladder.HardnessDifference / (coupons * ladder.HardnessSquares)), 2 * ladder.Levels * coupons - 3);

    /// <summary>Variance of the contrast and its degrees of freedom as the verdict would expect them, all coupons of an extension included.</summary>
    private static (double Variance, double Nu) Expected(PlanRequest r, PlanDesign d)
    {
        if (r.Ladder is { } ladder) return OverLadder(r, ladder, d.Coupons + d.Added);
        int n = (d.Coupons + d.Added) * (d.Estimand == Estimand.Sources ? 1 : d.Heats);
        double s2 = r.WithinHeatSd * r.WithinHeatSd, c2 = r.CandidateWithinHeatSd is { } own ? own * own : s2, mean = 0.5 * (s2 + c2), variance, spread;
        if (d.Estimand == Estimand.Sources)
        {
            (double ofC, double ofR) = (d.Heats + (r.History?.CandidateHeats ?? 0), d.Heats + (r.History?.ReferenceHeats ?? 0));
            double old = r.History is { } h ? h.ReferenceHeats + h.CandidateHeats + h.OtherHeats.Sum() - h.OtherHeats.Count : 0, level = r.HeatSd * r.HeatSd + mean / n;
            variance = level * (1 / ofC + 1 / ofR);
            spread = variance * variance / Math.Max(1, 2 * d.Heats - 2 + old);
        }
        else
        {
            int df = n - (d.Heats > 1 ? d.Heats : d.LoadsInAll);
            double lent = r is { Scatter: ScatterChoice.Lent, Law: { MayLend: true } law } ? law.LentDf : 0;
            variance = 2 * mean / n;
            spread = df >= 1 ? (s2 * s2 + c2 * c2) / (n * (double)n * (df + lent)) : variance * variance / (2 * n - d.LoadsInAll - 1);
        }
        if (r.Trend is { } t && d.Estimand != Estimand.AsTested)
        {
            double slope = t.HardnessDifference * t.HardnessDifference * t.SlopeStandardError * t.SlopeStandardError, reading = d.Estimand == Estimand.Sources ? 0 : 2 * t.Slope * t.Slope * t.HardnessSd * t.HardnessSd / n;
            (variance, spread) = (variance + slope + reading, spread + slope * slope / t.SlopeDf + reading * reading / t.HardnessSdDf);
        }
        return (variance, variance * variance / spread);
    }

    private static double Scale(PlanRequest r, double value) => r.Logarithmic ? Math.Log(value) : value;
}
