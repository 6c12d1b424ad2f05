using Meltwise.Metallurgy.Equilibrium;

namespace Meltwise.Metallurgy.Tests.Equilibrium;

// A search of all phases that shares neither points nor starts with the solver: ten times as many points, and descents from the lowest point of every region of every chunk, however high.
internal static class DenseSearch
{
    internal static double LowestDistanceJPerMol(EquilibriumSolver solver, SteelComposition steel, ulong seed)
    {
        GibbsMinimiser minimiser = solver.Minimiser;
        ParameterSet set = ParameterSet.ToolSteel;
        double[] b = [.. solver.Elements.Select(e => steel[e] / set.MolarMass(e))];
        double sum = b.Sum();
        for (int e = 0; e < b.Length; e++) b[e] /= sum;
        TemperatureBasis basis = new();
        basis.MoveTo(minimiser.TemperatureK);
        double[] values = new double[set.Functions.Count], slopes = new double[set.Functions.Count];
        for (int f = 0; f < values.Length; f++) (values[f], slopes[f]) = set.Functions[f].At(basis, values, slopes);
        PhaseEnergy[] energies = [.. minimiser.Models.Select(m => new PhaseEnergy(m, set.GasConstant))];
        foreach (PhaseEnergy energy in energies) energy.MoveTo(basis, values, slopes);

        double lowest = double.PositiveInfinity;
        PointSampler sampler = new(seed);
        for (int m = 0; m < minimiser.Models.Count; m++)
            for (int chunk = 0; chunk < 12; chunk++)
            {
                CandidatePoints points = new(solver.Elements.Count, minimiser.Models.Max(x => x.Size));
                sampler.Fill(points, m, minimiser.Models[m], firstRegion: 0, b, 0.3 * (1 + chunk), 10);
                points.Evaluate(0, energies, minimiser.GasEnergy);
                int[] inRegion = new int[minimiser.Models[m].RegionCount];
                double[] distances = new double[inRegion.Length];
                points.LowestByRegion(minimiser.Newton.Potentials, inRegion, distances);
                for (int r = 0; r < inRegion.Length; r++)
                {
                    if (inRegion[r] < 0) continue;
                    PhaseBlock probe = new(energies[m], m, solver.Elements.Count, set.GasConstant);
                    points.SiteFractions(inRegion[r], minimiser.Models[m].Size).CopyTo(probe.SiteFractions);
                    double distance = TangentPlane.Descend(probe, minimiser.Newton.Potentials, minimiser.TemperatureK, 1e-5);
                    lowest = Math.Min(lowest, Math.Min(distances[r], distance));
                }
            }
        return lowest * minimiser.GasEnergy;
    }
}
