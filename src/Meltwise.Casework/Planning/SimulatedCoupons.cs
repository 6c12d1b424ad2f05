using Meltwise.Statistics.Resampling;

namespace Meltwise.Casework.Planning;

/// <summary>Standard normal coupons of one simulated enquiry, nested: the first n coupons of every heat, for every n at once.</summary>
/// <remarks>All plans of a replicate look at the same coupons (common random numbers), so their odds differ by the plans and not by luck.</remarks>
internal sealed class SimulatedCoupons(int heats, int coupons)
{
    // Running sums of standard normals: near 0 by construction, so the plain sum of squares loses nothing.
    private readonly double[] _sum = new double[2 * heats * (coupons + 1)];
    private readonly double[] _squares = new double[2 * heats * (coupons + 1)];
    private readonly double[] _heat = new double[2 * heats];

    /// <summary>Draws a new enquiry.</summary>
    public void Draw(ref RandomStream random)
    {
        for (int h = 0; h < _heat.Length; h++)
        {
            _heat[h] = random.Normal();
            Span<double> sums = _sum.AsSpan(h * (coupons + 1), coupons + 1), ofSquares = _squares.AsSpan(h * (coupons + 1), coupons + 1);
            double sum = 0, squares = 0;
            for (int n = 1; n < sums.Length; n++)
            {
                double z = random.Normal();
                sums[n] = sum += z;
                ofSquares[n] = squares += z * z;
            }
        }
    }

    /// <summary>Mean of the first n coupons of a heat; side 0 is the candidate.</summary>
    public double Mean(int side, int heat, int n) => _sum[(side * heats + heat) * (coupons + 1) + n] / n;

    /// <summary>Their sum of squares about it.</summary>
    public double Squares(int side, int heat, int n)
    {
        int at = (side * heats + heat) * (coupons + 1) + n;
        return _squares[at] - _sum[at] * _sum[at] / n;
    }

    /// <summary>The heat's own deviation.</summary>
    public double Heat(int side, int heat) => _heat[side * heats + heat];
}
