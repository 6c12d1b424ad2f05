using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>Where a reading of this kind is expected, from everything read before; it questions a reading and never changes one.</summary>
/// <remarks>
/// <para><b>Model.</b> Coupon means of the same property, geometry and orientation are taken as one normal population on the property's scale (logarithm or as is),
/// heats and treatments mixed. The band holds the central 95 % of it; a reading further out than 3.1 standard deviations (two in a thousand) is doubted.</para>
/// <para><b>Limits.</b> At least eight coupons; below that nothing is doubted. The standard deviation is not taken below 8 % (or 0.3 HRC), so that an even run does not make
/// every next coupon doubtful. Common practice, no source: it catches slips of the scale and of the decimal point and judges no steel.</para>
/// </remarks>
/// <param name="Centre">Centre in the property's stored unit.</param>
/// <param name="Low">Lower edge of the 95 % band.</param>
/// <param name="High">Upper edge of the 95 % band.</param>
/// <param name="FarLow">Below this a reading is doubted.</param>
/// <param name="FarHigh">Above this a reading is doubted.</param>
/// <param name="Coupons">Coupons it rests on.</param>
public sealed record ReadingExpectation(double Centre, double Low, double High, double FarLow, double FarHigh, int Coupons)
{
    private const int FewestCoupons = 8;
    private const double SmallestLogSd = 0.08;
    private const double SmallestSd = 0.3;
    private const double Band = 1.96;
    private const double Far = 3.1;

    /// <summary>The expectation from coupon means in the stored unit, or null when there are too few.</summary>
    public static ReadingExpectation? From(IEnumerable<double> values, PropertyScale scale)
    {
        bool log = scale == PropertyScale.Logarithmic;
        double[] z = [.. values.Where(v => !log || v > 0).Select(v => log ? Math.Log(v) : v)];
        if (z.Length < FewestCoupons) return null;
        double mean = z.Average();
        double sd = Math.Max(Math.Sqrt(z.Sum(v => (v - mean) * (v - mean)) / (z.Length - 1)), log ? SmallestLogSd : SmallestSd);
        double At(double k) => log ? Math.Exp(mean + (k * sd)) : mean + (k * sd);
        return new(At(0), At(-Band), At(Band), At(-Far), At(Far), z.Length);
    }

    /// <summary>True when the value is further out than slips are rare.</summary>
    public bool Doubts(double value) => value < FarLow || value > FarHigh;

    /// <summary>True when the value lies in the band.</summary>
    public bool Holds(double value) => value >= Low && value <= High;
}
