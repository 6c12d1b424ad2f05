namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>The composition of a phase that lies lowest against the plane of the chemical potentials, and how low.</summary>
/// <remarks>
/// <para><b>Formula.</b> Minimise D(y) = G(y) - sum N_e(y) mu_e over the site fractions. D &lt; 0 means that the phase would form: the tangent-plane criterion of
/// [Michelsen1982].</para>
/// <para><b>Method.</b> Newton with the scaled, if need be shifted, Hessian of <see cref="PhaseBlock"/>, halving the step until D falls; stops early where the minimum is sure to lie above the plane. Finds the local minimum of the start's basin.</para>
/// </remarks>
internal static class TangentPlane
{
    private const int MaximumIterations = 60;
    private const double ClearlyAbove = 1e-3; // over R T, per formula unit

    /// <summary>Moves <paramref name="block"/> to the local minimum.</summary>
    /// <param name="block">Site fractions at the start; at the minimum afterwards.</param>
    /// <param name="potentials">Chemical potentials over R T.</param>
    /// <param name="temperatureK">Temperature, K.</param>
    /// <param name="tolerance">Largest scaled step that counts as arrived; the error of the distance is about its square.</param>
    /// <returns>Distance per mole of atoms over R T at the minimum.</returns>
    internal static double Descend(PhaseBlock block, ReadOnlySpan<double> potentials, double temperatureK, double tolerance)
    {
        block.Evaluate(temperatureK);
        double distance = block.Distance(potentials);
        for (int iteration = 0; iteration < MaximumIterations; iteration++)
        {
            block.Factor();
            double promise = block.Descend(potentials, out double norm);
            if (norm < tolerance || !double.IsFinite(norm)) break;
            // Close to a minimum that lies clearly above the plane: where exactly does not matter.
            if (norm < 0.05 && !block.Shifted && distance - 2 * promise > ClearlyAbove) break;
            block.Save();
            double length = 1 / Math.Max(1, block.LargestStep());
            double next = Try(block, potentials, temperatureK, length);
            while (!(next <= distance - 1e-4 * length * promise) && length > 1e-4)
            {
                length /= 2;
                next = Try(block, potentials, temperatureK, length);
            }
            double gained = distance - next;
            distance = next;
            if (Math.Abs(gained) < 1e-15) break;
        }
        return distance / block.AtomsPerFormula;
    }

    private static double Try(PhaseBlock block, ReadOnlySpan<double> potentials, double temperatureK, double length)
    {
        block.Move(length);
        block.Evaluate(temperatureK);
        return block.Distance(potentials);
    }
}
