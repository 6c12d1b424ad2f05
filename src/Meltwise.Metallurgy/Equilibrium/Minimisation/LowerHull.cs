namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>The lowest-energy mixture of given points that has the steel's composition: the lower convex hull, as a linear programme.</summary>
/// <remarks>
/// <para><b>Formula.</b> Minimise sum c_j x_j subject to sum x_j N_j = b, x &gt;= 0, where N_j are the mole fractions and c_j the energy (over R T, per
/// mole of atoms) of point j. The duals of the mass balances are estimates of the chemical potentials.</para>
/// <para><b>Method.</b> Revised simplex with the explicit inverse of the basis ([Dantzig1963]); one row an element, so the inverse is at most 12 x 12.
/// It starts from one costly imaginary point a pure element, which is always feasible.</para>
/// </remarks>
internal sealed class LowerHull(int elements)
{
    private const double ImaginaryCost = 1e3;
    private readonly double[] _inverse = new double[elements * elements];
    private readonly double[] _direction = new double[elements];

    /// <summary>Points of the basis, -1 for an imaginary one.</summary>
    internal int[] Basis { get; } = new int[elements];

    /// <summary>Moles of atoms in each basis point.</summary>
    internal double[] Amounts { get; } = new double[elements];

    /// <summary>Estimates of the chemical potentials, over R T.</summary>
    internal double[] Potentials { get; } = new double[elements];

    /// <summary>Solves from the start for the composition <paramref name="b"/> (mole fractions, all above zero).</summary>
    internal void Solve(CandidatePoints points, ReadOnlySpan<double> b)
    {
        Array.Clear(_inverse);
        for (int e = 0; e < elements; e++)
        {
            _inverse[e * elements + e] = 1;
            Basis[e] = -1;
            Amounts[e] = b[e];
            Potentials[e] = ImaginaryCost;
        }
        Improve(points);
    }

    /// <summary>Goes on from the present basis, after points have been added.</summary>
    internal void Improve(CandidatePoints points)
    {
        for (int iteration = 0; iteration < 2000; iteration++)
        {
            (int entering, double reducedCost) = points.Lowest(Potentials);
            if (entering < 0 || reducedCost > -1e-10) return;
            if (!Pivot(points, entering, reducedCost)) return;
        }
    }

    private bool Pivot(CandidatePoints points, int entering, double reducedCost)
    {
        ReadOnlySpan<double> column = points.MoleFractions(entering);
        int leaving = -1;
        double ratio = double.PositiveInfinity;
        for (int r = 0; r < elements; r++)
        {
            _direction[r] = DenseAlgebra.Dot(_inverse.AsSpan(r * elements, elements), column);
            if (_direction[r] <= 1e-11) continue;
            double limit = Amounts[r] / _direction[r];
            if (limit < ratio) (ratio, leaving) = (limit, r);
        }
        if (leaving < 0) return false;

        double pivot = _direction[leaving];
        Span<double> pivotRow = _inverse.AsSpan(leaving * elements, elements);
        for (int e = 0; e < elements; e++)
        {
            pivotRow[e] /= pivot;
            Potentials[e] += reducedCost * pivotRow[e];
        }
        for (int r = 0; r < elements; r++)
        {
            if (r == leaving) continue;
            for (int e = 0; e < elements; e++) _inverse[r * elements + e] -= _direction[r] * pivotRow[e];
            Amounts[r] = Math.Max(0, Amounts[r] - ratio * _direction[r]);
        }
        Amounts[leaving] = ratio;
        Basis[leaving] = entering;
        return true;
    }
}
