using Meltwise.Domain;

namespace Meltwise.Casework.Planning;

/// <summary>What a plan is asked to reach, and what is known before a coupon is broken.</summary>
/// <remarks>On a logarithmic scale margin and truth are ratios and scatters are standard deviations of ln(property); on a linear scale they are
/// differences and standard deviations in the unit of the property.</remarks>
public sealed record PlanRequest
{
    /// <summary>Name of the property, the first primary one.</summary>
    public string Property { get; init; } = PropertyTable.ImpactEnergy.Name;

    /// <summary>Further primary properties, read on the same coupons or on coupons of their own in the same numbers; empty where the rule has one. All must agree.</summary>
    public IReadOnlyList<FurtherPrimary> Further { get; init; } = [];

    /// <summary>Lower limit of the margin: a ratio below 1, or a difference below 0. Of a margin in the property's unit or in hardness, the negative of <see cref="MarginHigh"/>.</summary>
    public required double MarginLow { get; init; }

    /// <summary>Upper limit of the margin: a ratio above 1, or a difference above 0; plus or minus so many units, or HRC, by <see cref="MarginIn"/>.</summary>
    public required double MarginHigh { get; init; }

    /// <summary>What the margin is measured in.</summary>
    public PlanMargin MarginIn { get; init; }

    /// <summary>Expected mean of the reference lot in the unit of the property; needed for a margin in that unit on a logarithmic scale.</summary>
    public double? ReferenceMean { get; init; }

    /// <summary>True for ratios and logarithms (the default), false for differences.</summary>
    public bool Logarithmic { get; init; } = true;

    /// <summary>The question whose answer is wanted.</summary>
    public Question Question { get; init; }

    /// <summary>The estimand of plans with one heat a side; null takes equal hardness where a trend is given, else as tested. Several heats a side always answer for the sources.</summary>
    public Estimand? Estimand { get; init; }

    /// <summary>True where several heats a side are compared as they are, each weighing the same: hardness beside a comparison of sources.</summary>
    internal bool OfTheseHeats { get; init; }

    /// <summary>Own or lent scatter; lending needs a <see cref="Law"/>.</summary>
    public ScatterChoice Scatter { get; init; }

    /// <summary>Standard deviation of a coupon within its heat, at the reference's mean.</summary>
    public required double WithinHeatSd { get; init; }

    /// <summary>The candidate's, where it is expected to scatter otherwise.</summary>
    public double? CandidateWithinHeatSd { get; init; }

    /// <summary>Degrees of freedom behind the standard deviation; null takes it as known. Each replicate then draws its truth anew.</summary>
    public double? WithinHeatSdDf { get; init; }

    /// <summary>The bench's scatter law: how the scatter grows with the mean, how lots differ from it, how much it may lend; null takes the scatter as proportional and alike in all lots.</summary>
    public PlannedLaw? Law { get; init; }

    /// <summary>Standard deviation between heats of one source.</summary>
    public double HeatSd { get; init; }

    /// <summary>Degrees of freedom behind it; null takes it as known.</summary>
    public double? HeatSdDf { get; init; }

    /// <summary>Numbers of coupons: per lot with one heat, per heat with more, per level of a lot with a ladder.</summary>
    public required IReadOnlyList<int> Coupons { get; init; }

    /// <summary>Numbers of heats per source; 1 judges the two lots, more judge the sources.</summary>
    public IReadOnlyList<int> Heats { get; init; } = [1];

    /// <summary>Numbers of furnace loads over which both lots are dealt alike.</summary>
    public IReadOnlyList<int> Loads { get; init; } = [1];

    /// <summary>True to take for every plan only the fewest of <see cref="Loads"/> that hold its coupons; false for all of them.</summary>
    public bool LoadsAsNeeded { get; init; }

    /// <summary>Coupons that fit into one load; null when all fit.</summary>
    public int? LoadCapacity { get; init; }

    /// <summary>True when each lot would go into loads of its own; such a plan is refused.</summary>
    public bool LotsInOwnLoads { get; init; }

    /// <summary>Standard deviation between furnace loads, on the analysis scale.</summary>
    public double LoadSd { get; init; }

    /// <summary>True ratios (or differences) to plan against, of sound coupons.</summary>
    public IReadOnlyList<double> Truths { get; init; } = [1];

    /// <summary>The bench's trend with hardness, for plans at equal hardness and margins in hardness; null where neither is wanted.</summary>
    public PlannedTrend? Trend { get; init; }

    /// <summary>A temper ladder of both lots, for a plan at equal hardness without history; null where the lots have one treatment. Coupons are then those at each level of a lot.</summary>
    public PlannedLadder? Ladder { get; init; }

    /// <summary>True where something is judged through the hardness of the coupons.</summary>
    internal bool ReadsHardness => Trend is not null || Ladder is not null;

    /// <summary>Heats of the bench's history that enter the comparison of sources; null when there are none.</summary>
    public PlannedHistory? History { get; init; }

    /// <summary>A planned extension after an open first look; each look then uses half of <see cref="Alpha"/>.</summary>
    public PlannedExtension? Extension { get; init; }

    /// <summary>Flaws that can govern a coupon; null where none are reckoned with.</summary>
    public PlannedFlaws? Flaws { get; init; }

    /// <summary>Error rate of each claim.</summary>
    public double Alpha { get; init; } = 0.05;

    /// <summary>Good direction; null when there is none.</summary>
    public bool? HigherIsBetter { get; init; } = true;

    /// <summary>Replicates.</summary>
    public int Replicates { get; init; } = 20_000;

    /// <summary>Seed; one seed gives one table at any thread count.</summary>
    public long Seed { get; init; } = 1;

    /// <summary>Chance of the answer yes that the cheapest plan must reach.</summary>
    public double WantedChance { get; init; } = 0.8;

    /// <summary>Truth at which that chance is wanted; null: no difference for the questions equivalent and not worse, the good limit of the margin taken twice for better, once for difference.</summary>
    public double? WantedAt { get; init; }

    /// <summary>The truth at which the chance is wanted, filled in.</summary>
    public double Wanted => PlanTheory.WantedAt(this);

    /// <summary>The margin as a ratio on a logarithmic scale, as a difference on a linear one, as far as it is known before a coupon is broken.</summary>
    public (double Low, double High) MarginLimits
    {
        get
        {
            (double low, double high) = PlanTheory.Limits(this);
            return Logarithmic ? (Math.Exp(low), Math.Exp(high)) : (low, high);
        }
    }

    /// <summary>Cost of one coupon, in any currency.</summary>
    public double CostPerCoupon { get; init; } = 1;

    /// <summary>Cost of one coupon with the readings of all properties.</summary>
    public double CostOfCoupon => CostPerCoupon + Further.Sum(f => f.CostPerReading);

    /// <summary>Cost of one heat beyond its coupons.</summary>
    public double CostPerHeat { get; init; }

    /// <summary>Cost of one furnace load.</summary>
    public double CostPerLoad { get; init; }
}

/// <summary>What the margin of a plan is measured in.</summary>
public enum PlanMargin
{
    /// <summary>A ratio on a logarithmic scale, a difference on a linear one.</summary>
    Scale,

    /// <summary>Plus or minus so many units of a property on a logarithmic scale.</summary>
    Unit,

    /// <summary>Plus or minus so many HRC, through the trend.</summary>
    Hardness,
}

/// <summary>The bench's scatter law, SD = s₀·mean^k, with its sampling error.</summary>
/// <param name="Exponent">k; 1 is proportional scatter.</param>
/// <param name="ExponentStandardError">Its standard error; 0 where k is assumed.</param>
/// <param name="ExponentDf">Its degrees of freedom.</param>
/// <param name="SpreadDf">Degrees of freedom of the spread of single lots about the law: small where lots differ much in scatter, infinite where not at all.</param>
/// <param name="LentDf">Degrees of freedom that may be lent, q of the verdict.</param>
/// <param name="MayLend">False where the history is too small to lend.</param>
public sealed record PlannedLaw(double Exponent, double ExponentStandardError, double ExponentDf, double SpreadDf, double LentDf, bool MayLend);

/// <summary>The bench's trend of the property with hardness.</summary>
/// <param name="Slope">Change of the analysis scale per HRC.</param>
/// <param name="SlopeStandardError">Its standard error.</param>
/// <param name="SlopeDf">Its degrees of freedom.</param>
/// <param name="HardnessDifference">Expected difference of mean hardness, candidate less reference, HRC.</param>
/// <param name="HardnessSd">Standard deviation of a coupon's hardness, HRC.</param>
/// <param name="HardnessSdDf">Its degrees of freedom.</param>
/// <param name="SessionSd">Between-session standard deviation of hardness where the lots are read in separate sessions; 0 in one session.</param>
public sealed record PlannedTrend(double Slope, double SlopeStandardError, double SlopeDf, double HardnessDifference, double HardnessSd, double HardnessSdDf, double SessionSd = 0)
{
    /// <summary>True for the slope of the history's temper ladders, which the rule then names; false for that between heats.</summary>
    public bool OfLadders { get; init; }
}

/// <summary>Old heats that enter the comparison of sources.</summary>
/// <param name="ReferenceHeats">Old heats of the reference's source.</param>
/// <param name="CandidateHeats">Old heats of the candidate's source.</param>
/// <param name="OtherHeats">Old heats of each other source.</param>
/// <param name="CouponsPerHeat">Coupons of each old heat.</param>
public sealed record PlannedHistory(int ReferenceHeats, int CandidateHeats, IReadOnlyList<int> OtherHeats, int CouponsPerHeat);

/// <summary>A second look at more coupons of the same heats, taken only where the first look leaves the case open.</summary>
/// <param name="Coupons">Further coupons in each heat; null for as many again.</param>
/// <param name="NewLoads">True when they are treated later in loads of their own, both lots in each; false when they were treated with the first ones and kept.</param>
public sealed record PlannedExtension(int? Coupons = null, bool NewLoads = false);

/// <summary>Flaws that can govern a coupon: its property then is a share of what the sound coupon would have had.</summary>
/// <param name="InReference">Flaws above the critical size expected in the stressed volume of a reference coupon.</param>
/// <param name="InCandidate">The same for a candidate coupon.</param>
/// <param name="Share">Share of the sound value that a flaw-governed coupon keeps, above 0 and below 1.</param>
public sealed record PlannedFlaws(double InReference, double InCandidate, double Share);

/// <summary>The plan cannot be computed as asked: the message names the number and what was expected, fit for a reader.</summary>
public sealed class PlanFaultException(string message) : Exception(message);

/// <summary>The plan cannot answer the question on scientific grounds; the message says why and the way out.</summary>
/// <param name="reason">Code of the reason.</param>
/// <param name="message">Why, and what to change.</param>
public sealed class PlanRefusedException(string reason, string message) : Exception(message)
{
    /// <summary><c>confounded-loads</c>, <c>capacity</c>, <c>no-history</c>, <c>strata-differ</c>, <c>outside-the-trend</c> or <c>margin-not-resolved</c>.</summary>
    public string Reason { get; } = reason;
}
