using Meltwise.Metallurgy.Equilibrium;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Equilibrium;

public sealed class LowerHullTests
{
    // Duality of linear programmes proves the optimum: no point lies below the plane of the duals, and the points used carry the composition.
    [Theory]
    [InlineData(0.02)]
    [InlineData(0.06)]
    [InlineData(0.2)]
    public void The_hull_of_sampled_points_is_optimal_by_its_own_duals(double carbon)
    {
        string[] elements = ["Fe", "C"];
        ParameterSet set = ParameterSet.ToolSteel;
        PhaseModel[] models = [.. set.DefaultPhases.Select(id => PhaseModel.For(set.Phases.Single(p => p.Id == id), elements)).OfType<PhaseModel>()];
        TemperatureBasis basis = new();
        basis.MoveTo(1100);
        double[] values = new double[set.Functions.Count], slopes = new double[set.Functions.Count];
        for (int f = 0; f < values.Length; f++) (values[f], slopes[f]) = set.Functions[f].At(basis, values, slopes);
        PhaseEnergy[] energies = [.. models.Select(m => new PhaseEnergy(m, set.GasConstant))];
        foreach (PhaseEnergy energy in energies) energy.MoveTo(basis, values, slopes);
        double[] b = [1 - carbon, carbon];
        CandidatePoints points = new(2, models.Max(m => m.Size));
        PointSampler sampler = new(1);
        for (int m = 0; m < models.Length; m++) sampler.Fill(points, m, models[m], firstRegion: 0, b, 0.5, 10);
        points.Evaluate(0, energies, set.GasConstant * 1100);
        LowerHull hull = new(2);

        hull.Solve(points, b);

        Assert.True(points.Lowest(hull.Potentials).Distance > -1e-9);
        double iron = 0, all = 0;
        for (int r = 0; r < 2; r++)
        {
            Assert.True(hull.Basis[r] >= 0 && hull.Amounts[r] >= 0);
            iron += hull.Amounts[r] * points.MoleFractions(hull.Basis[r])[0];
            all += hull.Amounts[r];
        }
        Assert.Equal(1, all, 1e-12);
        Assert.Equal(1 - carbon, iron, 1e-12);
    }
}
