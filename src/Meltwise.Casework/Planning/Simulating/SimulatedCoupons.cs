using Meltwise.Statistics.Resampling;

namespace Meltwise.Casework.Planning;

/// <summary>Random numbers of one property of a simulated enquiry, nested: the first n coupons of every heat, for every n at once.</summary>
/// <remarks>All plans of a replicate look at the same coupons, heats and loads (common random numbers), so their odds differ by the plans and not by luck.
/// Flaws come from a stream of their own: the sound coupons are the same with and without them.</remarks>
/// <param name="heats">Most heats a side.</param>
/// <param name="coupons">Most coupons a heat.</param>
/// <param name="loads">Most furnace loads.</param>
/// <param name="hardness">Hardness of the coupons; null where nothing is judged through it.</param>
/// <param name="isHardness">True where the property is that hardness itself: its readings are drawn elsewhere.</param>
/// <param name="flaws">Flaws that can govern a coupon.</param>
internal sealed class SimulatedCoupons(int heats, int coupons, int loads, SimulatedHardness? hardness, bool isHardness, PlannedFlaws? flaws)
{
    private readonly double[] _coupon = isHardness ? hardness!.Deviations : new double[2 * heats * coupons], _hardness = hardness?.Deviations ?? [];
    private readonly double[] _heat = new double[2 * heats], _load = new double[loads];
    private readonly bool[] _flawed = new bool[flaws is null ? 0 : 2 * heats * coupons];
    private readonly double[] _flawChance = flaws is null ? [] : [1 - Math.Exp(-flaws.InCandidate), 1 - Math.Exp(-flaws.InReference)];

    /// <summary>Draws a new enquiry.</summary>
    /// <param name="random">Stream of the sound coupons.</param>
    /// <param name="ofFlaws">Stream of the flaws.</param>
    /// <param name="drawsHardness">True for the one property that draws the shared hardness.</param>
    public void Draw(ref RandomStream random, ref RandomStream ofFlaws, bool drawsHardness)
    {
        for (int h = 0; h < _heat.Length; h++) _heat[h] = random.Normal();
        for (int l = 0; l < _load.Length; l++) _load[l] = random.Normal();
        if (!isHardness)
            for (int i = 0; i < _coupon.Length; i++) _coupon[i] = random.Normal();
        if (drawsHardness) hardness!.Draw(ref random);
        for (int i = 0; i < _flawed.Length; i++) _flawed[i] = ofFlaws.Uniform() < _flawChance[i / (heats * coupons)];
    }

    /// <summary>Makes the readings of all properties on one coupon correlate: independent deviations e become Le.</summary>
    /// <param name="properties">Coupons of every property, as drawn.</param>
    /// <param name="factor">L, lower triangle.</param>
    public static void Correlate(IReadOnlyList<SimulatedCoupons> properties, double[,] factor)
    {
        // From the last property up, so that each still finds the independent deviations of those before it.
        for (int j = properties.Count - 1; j > 0; j--)
        {
            double[] own = properties[j]._coupon;
            for (int i = 0; i < own.Length; i++)
            {
                double sum = factor[j, j] * own[i];
                for (int k = 0; k < j; k++) sum += factor[j, k] * properties[k]._coupon[i];
                own[i] = sum;
            }
        }
    }

    /// <summary>Standard normal deviation of a coupon; side 0 is the candidate.</summary>
    public double Coupon(int side, int heat, int i) => _coupon[(side * heats + heat) * coupons + i];

    /// <summary>Standard normal deviation of its hardness.</summary>
    public double Hardness(int side, int heat, int i) => _hardness[(side * heats + heat) * coupons + i];

    /// <summary>True where a flaw governs it.</summary>
    public bool IsFlawed(int side, int heat, int i) => _flawed.Length > 0 && _flawed[(side * heats + heat) * coupons + i];

    /// <summary>The heat's own deviation.</summary>
    public double Heat(int side, int heat) => _heat[side * heats + heat];

    /// <summary>The deviation of a furnace load.</summary>
    public double Load(int load) => _load[load];
}
