namespace Meltwise.Casework.Demonstration;

/// <summary>The true values behind the demonstration bench. INVENTED: no steel was tested, no source exists.</summary>
/// <remarks>
/// <para>ln(energy) = ln 42 J + source + orientation + treatment − 0.085·(H − 62) + heat + load + coupon, H the true hardness of the heat after that treatment.</para>
/// <para>The scatter of a coupon grows with the mean: SD of energy ∝ mean^1.3, 12 % at 42 J.</para>
/// <para>Hardness of a heat follows its carbon (14 HRC per mass percent), its chromium (−0.5 HRC per mass percent) and a rest of the heat.</para>
/// The same values stand in docs/guide/demonstration.md; a test holds the two together.
/// </remarks>
public static class PunchMakerModel
{
    /// <summary>Seed of the generator.</summary>
    public const int Seed = 20211;

    /// <summary>Geometric mean energy of the reference state, J.</summary>
    public const double EnergyJ = 42;

    /// <summary>Hardness of the reference state, HRC.</summary>
    public const double HardnessHrc = 62;

    /// <summary>Change of ln(energy) per HRC between heats.</summary>
    public const double LogPerHrc = -0.085;

    /// <summary>Heat-to-heat standard deviation of ln(energy) at equal hardness.</summary>
    public const double HeatSd = 0.05;

    /// <summary>Load-to-load standard deviation of ln(energy).</summary>
    public const double LoadSd = 0.02;

    /// <summary>Standard deviation of ln(energy) of a coupon at <see cref="EnergyJ"/>.</summary>
    public const double CouponSd = 0.12;

    /// <summary>Exponent of the scatter law SD ∝ mean^k.</summary>
    public const double ScatterExponent = 1.3;

    /// <summary>Hardness per mass percent of carbon, HRC.</summary>
    public const double HrcPerCarbon = 14;

    /// <summary>Hardness per mass percent of chromium, HRC.</summary>
    public const double HrcPerChromium = -0.5;

    /// <summary>Rest of a heat's hardness, standard deviation, HRC.</summary>
    public const double HeatHardnessSd = 0.35;

    /// <summary>Coupon-to-coupon standard deviation of true hardness, HRC.</summary>
    public const double CouponHardnessSd = 0.10;

    /// <summary>Standard deviation of one indent, HRC.</summary>
    public const double IndentSd = 0.20;

    /// <summary>ln of each source's energy against the first at equal hardness.</summary>
    public static IReadOnlyDictionary<string, double> LogSource { get; } =
        new Dictionary<string, double>(StringComparer.Ordinal) { ["Upriver"] = 0, ["Downriver"] = -0.02, ["Hillside"] = -0.09 };

    /// <summary>ln of energy across the rolling direction against along it.</summary>
    public const double LogTransverse = -0.33;

    /// <summary>ln of energy of the ingot route against powder.</summary>
    public const double LogIngot = -0.70;

    /// <summary>SD of ln(energy) of one coupon at a mean energy.</summary>
    public static double LogSdAt(double energyJ) => CouponSd * Math.Pow(energyJ / EnergyJ, ScatterExponent - 1);
}
