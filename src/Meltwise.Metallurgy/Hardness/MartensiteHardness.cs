using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Hardness;

/// <summary>Hardness of untempered martensite from the carbon dissolved in it.</summary>
/// <remarks>
/// <para><b>Formula.</b> Straight lines through published points of hardness against carbon in solution: Hodge and Orehoski to
/// 0.65 % C, Burns, Moore and Archer (refrigerated, so nearly free of austenite) from 0.7 to 1.0 % C.</para>
/// <para><b>Assumption.</b> Carbon alone sets the hardness of fresh martensite; the alloy matters when it is tempered.</para>
/// <para><b>Range.</b> 0.1 to 1.0 % dissolved C; error ±1 HRC to 0.65 % C, ±1.5 HRC above. Low by several HRC for high-speed steels, whose
/// fine carbides and alloy add what the curve does not know: calibrate by grade, or use differences.</para>
/// <para><b>Outside.</b> Refused.</para>
/// <para><b>Source.</b> Hodge and Orehoski, Trans. AIME 167 (1946) 627, through ASTM A255 practice; Burns, Moore and Archer, Trans. ASM 26
/// (1938) 1; both from memory.</para>
/// </remarks>
public static class MartensiteHardness
{
    private static readonly double[] s_carbon = [0.10, 0.15, 0.20, 0.25, 0.30, 0.35, 0.40, 0.45, 0.50, 0.55, 0.60, 0.65, 0.70, 0.80, 0.90, 1.00];
    private static readonly double[] s_hrc = [38, 41, 44, 47, 50, 53, 56, 59, 60, 61, 62, 63, 64.5, 65.5, 66, 66.5];

    /// <summary>Lowest dissolved carbon of the curve, mass percent.</summary>
    public const double LowestCarbon = 0.1;

    /// <summary>Highest dissolved carbon of the curve, mass percent.</summary>
    public const double HighestCarbon = 1.0;

    /// <summary>Sources of the two parts of the curve.</summary>
    public static IReadOnlyList<Source> Sources { get; } =
    [
        new("Hodge and Orehoski, Trans. AIME 167 (1946) 627, through the initial-hardness table of ASTM A255", SourceStatus.FromMemory),
        new("Burns, Moore and Archer, Trans. ASM 26 (1938) 1", SourceStatus.FromMemory),
    ];

    /// <summary>Rockwell C of fully martensitic, untempered steel; NaN outside 0.1 to 1.0 % C. Allocates nothing.</summary>
    /// <param name="dissolvedCarbon">Carbon in the austenite before the quench, mass percent.</param>
    public static double HrcOrNaN(double dissolvedCarbon) => HardnessConversion.Interpolate(s_carbon, s_hrc, dissolvedCarbon);

    /// <summary>Rockwell C of fully martensitic, untempered steel.</summary>
    /// <exception cref="OutsideModelRangeException">Dissolved carbon outside 0.1 to 1.0 %.</exception>
    public static double Hrc(double dissolvedCarbon)
    {
        double hrc = HrcOrNaN(dissolvedCarbon);
        return double.IsNaN(hrc)
            ? throw new OutsideModelRangeException("Martensite hardness", "dissolved carbon", dissolvedCarbon, LowestCarbon, HighestCarbon, "wt%")
            : hrc;
    }

    /// <summary>Half width of the published scatter at this carbon, HRC.</summary>
    public static double HalfWidthHrc(double dissolvedCarbon) => dissolvedCarbon <= 0.65 ? 1 : 1.5;
}
