namespace Meltwise.Casework.Planning;

/// <summary>What a plan is asked to reach, and what is known before a coupon is broken.</summary>
/// <remarks>On a logarithmic scale margin and truth are ratios and scatters are standard deviations of ln(property); on a linear scale they are
/// differences and standard deviations in the unit of the property.</remarks>
public sealed record PlanRequest
{
    /// <summary>Lower limit of the margin: a ratio below 1, or a difference below 0.</summary>
    public required double MarginLow { get; init; }

    /// <summary>Upper limit of the margin: a ratio above 1, or a difference above 0.</summary>
    public required double MarginHigh { get; init; }

    /// <summary>True for ratios and logarithms (the default), false for differences.</summary>
    public bool Logarithmic { get; init; } = true;

    /// <summary>Standard deviation of a coupon within its heat.</summary>
    public required double WithinHeatSd { get; init; }

    /// <summary>The candidate's, where it is expected to scatter otherwise.</summary>
    public double? CandidateWithinHeatSd { get; init; }

    /// <summary>Degrees of freedom behind the standard deviation; null takes it as known. Each replicate then draws its truth anew.</summary>
    public double? WithinHeatSdDf { get; init; }

    /// <summary>Standard deviation between heats of one source.</summary>
    public double HeatSd { get; init; }

    /// <summary>Degrees of freedom behind it; null takes it as known.</summary>
    public double? HeatSdDf { get; init; }

    /// <summary>Numbers of coupons: per lot with one heat, per heat with more.</summary>
    public required IReadOnlyList<int> Coupons { get; init; }

    /// <summary>Numbers of heats per source; 1 judges the two lots as tested, more judge the sources.</summary>
    public IReadOnlyList<int> Heats { get; init; } = [1];

    /// <summary>True ratios (or differences) to plan against.</summary>
    public IReadOnlyList<double> Truths { get; init; } = [1];

    /// <summary>Judging at equal hardness with the bench's trend; null judges as tested.</summary>
    public PlannedTrend? Trend { get; init; }

    /// <summary>Heats of the bench's history that enter the comparison of sources; null when there are none.</summary>
    public PlannedHistory? History { get; init; }

    /// <summary>Error rate of each claim; half of it per look where an extension is planned.</summary>
    public double Alpha { get; init; } = 0.05;

    /// <summary>Good direction; null when there is none.</summary>
    public bool? HigherIsBetter { get; init; } = true;

    /// <summary>Replicates.</summary>
    public int Replicates { get; init; } = 20_000;

    /// <summary>Seed; one seed gives one table at any thread count.</summary>
    public long Seed { get; init; } = 1;

    /// <summary>Chance of agreement at truth 1 that the cheapest plan must reach.</summary>
    public double WantedChance { get; init; } = 0.8;

    /// <summary>Cost of one coupon, in any currency.</summary>
    public double CostPerCoupon { get; init; } = 1;

    /// <summary>Cost of one heat beyond its coupons.</summary>
    public double CostPerHeat { get; init; }
}

/// <summary>The bench's trend of the property with hardness, for plans at equal hardness.</summary>
/// <param name="Slope">Change of the analysis scale per HRC.</param>
/// <param name="SlopeStandardError">Its standard error.</param>
/// <param name="SlopeDf">Its degrees of freedom.</param>
/// <param name="HardnessDifference">Expected difference of mean hardness, candidate less reference, HRC.</param>
/// <param name="HardnessSd">Standard deviation of a coupon's hardness reading, HRC.</param>
/// <param name="HardnessSdDf">Its degrees of freedom.</param>
public sealed record PlannedTrend(double Slope, double SlopeStandardError, double SlopeDf, double HardnessDifference, double HardnessSd, double HardnessSdDf);

/// <summary>Old heats that enter the comparison of sources.</summary>
/// <param name="ReferenceHeats">Old heats of the reference's source.</param>
/// <param name="CandidateHeats">Old heats of the candidate's source.</param>
/// <param name="OtherHeats">Old heats of each other source.</param>
/// <param name="CouponsPerHeat">Coupons of each old heat.</param>
public sealed record PlannedHistory(int ReferenceHeats, int CandidateHeats, IReadOnlyList<int> OtherHeats, int CouponsPerHeat);

/// <summary>The plan cannot be computed as asked: the message names the number and what was expected, fit for a reader.</summary>
public sealed class PlanFaultException(string message) : Exception(message);
