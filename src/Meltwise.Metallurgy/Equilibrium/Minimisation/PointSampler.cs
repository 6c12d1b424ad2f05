namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>Samples the composition spaces of the phases: pure corners, points scattered about a metal ratio, and points spread over the whole space.</summary>
/// <remarks>
/// <para><b>Points of a phase.</b> Every end member, slightly softened; metal fractions proportional to the given ratio times exp(normal), at carbon fillings
/// spaced evenly in the logarithm; and fractions proportional to E^k with E exponential and k = 1, 3, 10, from even to nearly pure.</para>
/// <para><b>Repeatable.</b> The same seed gives the same points on every machine.</para>
/// </remarks>
internal struct PointSampler(ulong seed)
{
    private static readonly double[] s_fillings = [1e-5, 1e-4, 1e-3, 3e-3, 0.01, 0.02, 0.03, 0.045, 0.06, 0.08, 0.12, 0.2, 0.4, 0.6, 0.75, 0.85, 0.92, 0.97, 0.995];
    private ulong _state = seed;

    /// <summary>Adds the points of a model.</summary>
    /// <param name="points">Added to.</param>
    /// <param name="modelIndex">Number of the model.</param>
    /// <param name="model">The model.</param>
    /// <param name="firstRegion">Number of the model's first region among those of all models.</param>
    /// <param name="b">Mole fractions the metals are scattered about.</param>
    /// <param name="scatter">Standard deviation of ln(metal fraction).</param>
    /// <param name="density">Points at each filling; eight times as many are spread.</param>
    internal void Fill(CandidatePoints points, int modelIndex, PhaseModel model, int firstRegion, ReadOnlySpan<double> b, double scatter, int density)
    {
        Span<double> y = stackalloc double[model.Size];
        Corners(points, modelIndex, model, firstRegion, y);
        bool interstitial = Array.IndexOf(model.Constituents, "Va") >= 0;
        int scattered = interstitial ? s_fillings.Length * density : 4 * density;
        for (int p = 0; p < scattered; p++)
        {
            Scatter(model, b, p < density ? 0.02 : scatter, s_fillings[p % s_fillings.Length], y);
            points.Add(modelIndex, model, y, firstRegion);
        }
        for (int p = 0; p < 8 * density; p++)
        {
            Spread(model, p % 3 == 0 ? 1 : p % 3 == 1 ? 3 : 10, y);
            points.Add(modelIndex, model, y, firstRegion);
        }
    }

    private static void Corners(CandidatePoints points, int modelIndex, PhaseModel model, int firstRegion, Span<double> y)
    {
        int sublattices = model.SublatticeStart.Length - 1, combinations = 1;
        for (int s = 0; s < sublattices; s++) combinations *= model.SublatticeStart[s + 1] - model.SublatticeStart[s];
        for (int c = 0; c < combinations; c++)
        {
            int rest = c;
            bool atoms = false;
            for (int s = 0; s < sublattices; s++)
            {
                int from = model.SublatticeStart[s], count = model.SublatticeStart[s + 1] - from, chosen = from + rest % count;
                rest /= count;
                for (int i = from; i < from + count; i++) y[i] = count == 1 ? 1 : i == chosen ? 1 - 1e-3 : 1e-3 / (count - 1);
                atoms |= model.ElementOf[chosen] >= 0;
            }
            if (atoms) points.Add(modelIndex, model, y, firstRegion);
        }
    }

    private void Scatter(PhaseModel model, ReadOnlySpan<double> b, double scatter, double filling, Span<double> y)
    {
        for (int s = 0; s + 1 < model.SublatticeStart.Length; s++)
        {
            double sum = 0;
            int vacancy = model.IndexOf(s, "Va");
            for (int i = model.SublatticeStart[s]; i < model.SublatticeStart[s + 1]; i++)
                if (i != vacancy) sum += y[i] = Math.Max(1e-9, b[model.ElementOf[i]]) * Math.Exp(scatter * Normal());
            double full = vacancy < 0 || sum == 0 ? 1 : filling;
            for (int i = model.SublatticeStart[s]; i < model.SublatticeStart[s + 1]; i++)
                y[i] = i == vacancy ? (sum == 0 ? 1 : 1 - full) : y[i] * full / sum;
        }
    }

    private void Spread(PhaseModel model, int power, Span<double> y)
    {
        for (int s = 0; s + 1 < model.SublatticeStart.Length; s++)
        {
            double sum = 0;
            for (int i = model.SublatticeStart[s]; i < model.SublatticeStart[s + 1]; i++)
                sum += y[i] = Math.Pow(-Math.Log(Uniform()), power) + 1e-9;
            for (int i = model.SublatticeStart[s]; i < model.SublatticeStart[s + 1]; i++) y[i] /= sum;
        }
    }

    private double Normal() => Math.Sqrt(-2 * Math.Log(Uniform())) * Math.Cos(2 * Math.PI * Uniform());

    /// <summary>Uniform on (0, 1), by splitmix64 [SteeleLeaFlood2014].</summary>
    private double Uniform()
    {
        ulong z = _state += 0x9E3779B97F4A7C15;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return ((z ^ (z >> 31)) >> 11) * (1.0 / (1ul << 53)) + 1e-17;
    }
}
