using Meltwise.Statistics.Resampling;

namespace Meltwise.Casework.Planning;

/// <summary>Random numbers of one simulated enquiry, nested: the first n coupons of every heat, for every n at once.</summary>
/// <remarks>All plans of a replicate look at the same coupons, heats and loads (common random numbers), so their odds differ by the plans and not by luck.
/// Flaws come from a stream of their own: the sound coupons are the same with and without them.</remarks>
internal sealed class SimulatedCoupons(int heats, int coupons, int loads, bool hardness, PlannedFlaws? flaws)
{
    private readonly double[] _coupon = new double[2 * heats * coupons], _hardness = new double[hardness ? 2 * heats * coupons : 0];
    private readonly double[] _heat = new double[2 * heats], _load = new double[loads];
    private readonly bool[] _flawed = new bool[flaws is null ? 0 : 2 * heats * coupons];
    private readonly double[] _flawChance = flaws is null ? [] : [1 - Math.Exp(-flaws.InCandidate), 1 - Math.Exp(-flaws.InReference)];

    /// <summary>Draws a new enquiry.</summary>
    public void Draw(ref RandomStream random, ref RandomStream ofFlaws)
    {
        for (int h = 0; h < _heat.Length; h++) _heat[h] = random.Normal();
        for (int l = 0; l < _load.Length; l++) _load[l] = random.Normal();
        for (int i = 0; i < _coupon.Length; i++) _coupon[i] = random.Normal();
        for (int i = 0; i < _hardness.Length; i++) _hardness[i] = random.Normal();
        for (int i = 0; i < _flawed.Length; i++) _flawed[i] = ofFlaws.Uniform() < _flawChance[i / (heats * coupons)];
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
