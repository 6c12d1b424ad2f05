using Meltwise.Statistics.Resampling;

namespace Meltwise.Casework.Planning;

/// <summary>Hardness read on the coupons of a simulated enquiry: one set of readings, whatever is judged through them.</summary>
internal sealed class SimulatedHardness(int heats, int coupons)
{
    /// <summary>Standard normal deviation of every coupon's reading; candidate first, heat by heat.</summary>
    public double[] Deviations { get; } = new double[2 * heats * coupons];

    public void Draw(ref RandomStream random)
    {
        for (int i = 0; i < Deviations.Length; i++) Deviations[i] = random.Normal();
    }
}
