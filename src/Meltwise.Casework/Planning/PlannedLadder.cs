namespace Meltwise.Casework.Planning;

/// <summary>A temper ladder that both lots are tested over: they are then compared at equal hardness by the slope of their own ladders, without history. Both lots go through the same tempers.</summary>
public sealed record PlannedLadder
{
    /// <summary>Expected mean hardness of the reference lot at each temper, HRC.</summary>
    public required IReadOnlyList<double> Reference { get; init; }

    /// <summary>The same of the candidate lot, in the same order of tempers.</summary>
    public required IReadOnlyList<double> Candidate { get; init; }

    /// <summary>True change of the analysis scale per HRC in the reference lot.</summary>
    public required double Slope { get; init; }

    /// <summary>The candidate's slope less the reference's; 0 for parallel lines.</summary>
    public double SlopeDifference { get; init; }

    /// <summary>Standard deviation of a coupon's hardness inside a level, HRC.</summary>
    public double HardnessSd { get; init; } = UsualHardnessSd;

    /// <summary>Scatter of a coupon's hardness where nobody knows it, HRC; common practice, no source.</summary>
    public const double UsualHardnessSd = 0.3;

    /// <summary>Tempers.</summary>
    public int Levels => Reference.Count;

    /// <summary>Expected difference of the lots' mean hardness, candidate less reference.</summary>
    public double HardnessDifference => Candidate.Average() - Reference.Average();

    /// <summary>Hardness at which the true ratio or difference holds where the lines are not parallel: the mean of all levels.</summary>
    public double Centre => (Candidate.Sum() + Reference.Sum()) / (2 * Levels);

    /// <summary>Expected Σ(x − lot mean)² over the levels of both lots, one coupon each.</summary>
    public double HardnessSquares => Squares(Candidate) + Squares(Reference);

    /// <summary>True where the two ladders are expected to overlap in hardness.</summary>
    public bool Overlaps => Math.Max(Candidate.Min(), Reference.Min()) < Math.Min(Candidate.Max(), Reference.Max());

    private static double Squares(IReadOnlyList<double> levels)
    {
        double mean = levels.Average();
        return levels.Sum(x => (x - mean) * (x - mean));
    }
}
