using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Planning;

/// <summary>Numbers that make no plan, and plans that the rule would refuse whatever is read.</summary>
internal static class PlanChecks
{
    public static void Require(PlanRequest plan, PlannedProperties properties)
    {
        Numbers(plan);
        Flaws(plan);
        if (plan.Ladder is { } ladder) Ladder(plan, ladder);
        if (plan.Further.Any(f => !(f.CostPerReading >= 0))) throw new PlanFaultException("A cost must not be negative.");
        foreach (PlanRequest r in properties.Requests)
        {
            try
            {
                OfProperty(r);
            }
            catch (PlanFaultException fault) when (properties.Requests.Count > 1)
            {
                throw new PlanFaultException($"{Named(r)}: {fault.Message}");
            }
            catch (PlanRefusedException refused) when (properties.Requests.Count > 1)
            {
                throw new PlanRefusedException(refused.Reason, $"{Named(r)}: {refused.Message}");
            }
        }
    }

    private static void OfProperty(PlanRequest r)
    {
        Margin(r);
        Scatter(r);
        Trend(r);
        if (r.Truths.Count == 0 || (r.Logarithmic && r.Truths.Append(r.WantedAt ?? 1).Any(t => !(t > 0 && double.IsFinite(t)))) || r.Truths.Any(t => !double.IsFinite(t))) throw new PlanFaultException("A true ratio must be above 0.");
        if (r.HigherIsBetter is null && r.Question is Question.NotWorse or Question.Better) throw new PlanFaultException("The questions not-worse and better need a good direction of the property.");
    }

    private static string Named(PlanRequest r) => char.ToUpperInvariant(r.Property[0]) + r.Property[1..];

    private static void Margin(PlanRequest r)
    {
        double alike = r.Logarithmic ? 1 : 0;
        if (r.MarginIn != PlanMargin.Scale)
        {
            if (!(r.MarginHigh > 0)) throw new PlanFaultException("A margin in the unit or in hardness must be above 0.");
            if (r.MarginIn == PlanMargin.Unit && !r.Logarithmic) throw new PlanFaultException("On a linear scale a margin in the unit is the margin itself.");
            if (r.MarginIn == PlanMargin.Unit && !(r.ReferenceMean > 0)) throw new PlanFaultException("A margin in the unit of the property needs the mean that is expected of the reference.");
            if (r.MarginIn == PlanMargin.Unit && r.MarginHigh >= r.ReferenceMean) throw new PlanFaultException($"The margin ±{N(r.MarginHigh)} is not below the expected mean {N(r.ReferenceMean!.Value)}.");
            if (r.MarginIn == PlanMargin.Hardness && !r.ReadsHardness) throw new PlanRefusedException("no-history", "A margin in hardness needs the trend of the property with hardness; there is none to plan with.");
            return;
        }
        if (!(r.MarginLow < alike && r.MarginHigh > alike) || (r.Logarithmic && !(r.MarginLow > 0)))
            throw new PlanFaultException($"The margin {N(r.MarginLow)}..{N(r.MarginHigh)} must enclose {N(alike)}{(r.Logarithmic ? " and be above 0" : "")}.");
    }

    private static void Scatter(PlanRequest r)
    {
        if (!(r.WithinHeatSd > 0) || r.CandidateWithinHeatSd is <= 0) throw new PlanFaultException("The scatter within a heat must be above 0.");
        if (!(r.HeatSd >= 0)) throw new PlanFaultException("The scatter between heats must not be negative.");
        if (!(r.LoadSd >= 0)) throw new PlanFaultException("The scatter between loads must not be negative.");
        if (r.WithinHeatSdDf < 1 || r.HeatSdDf < 1) throw new PlanFaultException("The degrees of freedom behind a scatter must be at least 1.");
        if (r.Scatter == ScatterChoice.Lent && r.Law is null && r.Ladder is null) throw new PlanRefusedException("no-history", "The rule lends the bench's scatter, and there is no scatter law to lend from.");
        if (r.Law is { } law && !(law.SpreadDf > 2 && law.LentDf > 0 && law.ExponentStandardError >= 0 && (law.ExponentStandardError == 0 || law.ExponentDf >= 1)))
            throw new PlanFaultException("The scatter law needs more than 2 degrees of freedom of its spread, and at least 1 elsewhere.");
        if (r.Law is { Exponent: not 1 } && !r.Logarithmic) throw new PlanFaultException("A scatter law with an exponent belongs to a logarithmic scale.");
    }

    private static void Numbers(PlanRequest r)
    {
        if (r.Coupons.Count == 0 || r.Coupons.Any(n => n is < 1 or > 1000)) throw new PlanFaultException("Coupon numbers must lie between 1 and 1000.");
        if (r.Heats.Count == 0 || r.Heats.Any(h => h is < 1 or > 200)) throw new PlanFaultException("Heat numbers must lie between 1 and 200.");
        if (r.Loads.Count == 0 || r.Loads.Any(l => l is < 1 or > 50)) throw new PlanFaultException("Numbers of furnace loads must lie between 1 and 50.");
        if (r.LoadCapacity is < 2) throw new PlanFaultException("A furnace load must hold at least 2 coupons, one of each lot.");
        if (r.Extension is { Coupons: < 1 or > 1000 }) throw new PlanFaultException("An extension adds between 1 and 1000 coupons to each heat.");
        if (r.Replicates is < 100 or > 10_000_000) throw new PlanFaultException($"{r.Replicates} replicates: between 100 and 10000000 are accepted.");
        if (r.Alpha is not (> 0 and < 0.5)) throw new PlanFaultException($"Alpha {N(r.Alpha)} must lie between 0 and 0.5.");
        if (r.WantedChance is not (> 0 and < 1)) throw new PlanFaultException($"The wanted chance {N(r.WantedChance)} must lie between 0 and 1.");
        if (!(r.CostPerCoupon >= 0 && r.CostPerHeat >= 0 && r.CostPerLoad >= 0)) throw new PlanFaultException("A cost must not be negative.");
    }

    private static void Trend(PlanRequest r)
    {
        if (r.Estimand == Estimand.EqualHardness && !r.ReadsHardness) throw new PlanRefusedException("no-history", "A comparison at equal hardness needs the bench's trend with hardness; there is none to plan with.");
        if (r.Trend is not { } t) return;
        if (!(t.SlopeDf >= 1 && t.HardnessSdDf >= 1)) throw new PlanFaultException("The trend's degrees of freedom must be at least 1.");
        if (!(t.SlopeStandardError >= 0 && t.HardnessSd >= 0 && t.SessionSd >= 0 && double.IsFinite(t.Slope) && double.IsFinite(t.HardnessDifference))) throw new PlanFaultException("The trend's standard error and the scatter of hardness must not be negative.");
        if (r.MarginIn == PlanMargin.Hardness && !(t.Slope + Statistics.Distributions.StudentT.Quantile(0.975, t.SlopeDf) * t.SlopeStandardError < 0))
            throw new PlanRefusedException("margin-not-resolved", "The margin is in hardness and the 95 % interval of the slope is not below 0, so that the margin has no size in the property. Agree the margin as a ratio, or test more heats over a wider range of hardness first.");
    }

    private static void Ladder(PlanRequest r, PlannedLadder ladder)
    {
        if (ladder.Levels < 2 || ladder.Candidate.Count != ladder.Levels) throw new PlanFaultException($"A temper ladder takes at least 2 levels, the same number in both lots; these have {ladder.Levels} and {ladder.Candidate.Count}.");
        if (ladder.Levels > 20) throw new PlanFaultException($"A ladder of {ladder.Levels} levels: at most 20 are planned.");
        if (ladder.Reference.Concat(ladder.Candidate).Any(h => !(h is > 0 and < 100))) throw new PlanFaultException("The hardness of a level lies between 0 and 100 HRC.");
        if (ladder.Reference.Distinct().Count() < ladder.Levels || ladder.Candidate.Distinct().Count() < ladder.Levels) throw new PlanFaultException("Two levels of a ladder have the same hardness. Every temper needs a hardness of its own.");
        if (!double.IsFinite(ladder.Slope) || !double.IsFinite(ladder.SlopeDifference) || !(ladder.HardnessSd >= 0)) throw new PlanFaultException("The slope of a ladder is a number, and the scatter of hardness is not negative.");
        if (r.Heats.Any(h => h != 1)) throw new PlanFaultException("A temper ladder of both lots is planned with one heat a side; several heats of a source are compared in one treatment.");
        if (r.Estimand is { } asked && asked != Estimand.EqualHardness) throw new PlanRefusedException("strata-differ", "Lots in several treatments are no single kind of coupon: over a temper ladder only equal hardness is judged. Ask for the comparison at equal hardness.");
        if (r.Further.Any(f => f.IsHardness)) throw new PlanRefusedException("strata-differ", "Hardness must agree too, and over a temper ladder it differs by the tempers themselves: such a rule can never show agreement. Compare hardness in one treatment, or make it a secondary property.");
        if (!ladder.Overlaps) throw new PlanRefusedException("outside-the-trend", "The two ladders are not expected to overlap in hardness, so that no hardness is common to both. Temper the lots at levels that bring them to the same hardness.");
    }

    private static void Flaws(PlanRequest r)
    {
        if (r.Flaws is not { } f) return;
        if (!r.Logarithmic) throw new PlanFaultException("Flaw-governed coupons are reckoned on a logarithmic scale only.");
        if (!(f.InReference is >= 0 and <= 100 && f.InCandidate is >= 0 and <= 100)) throw new PlanFaultException("Flaws expected in a coupon must lie between 0 and 100.");
        if (f.Share is not (> 0 and < 1)) throw new PlanFaultException($"A flaw-governed coupon keeps a share between 0 and 1 of the sound value, not {N(f.Share)}.");
    }

    private static string N(double v) => v.ToString("G6", CultureInfo.InvariantCulture);
}
