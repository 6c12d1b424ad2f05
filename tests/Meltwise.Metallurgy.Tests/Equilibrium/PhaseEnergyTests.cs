using System.Globalization;
using System.Text.Json;
using Meltwise.Metallurgy.Equilibrium;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Equilibrium;

// Oracle: Oracles/equilibrium/gibbs-check-points.json, printed to 1e-4 J (energies) and 1e-3 J (gradients).
public sealed class PhaseEnergyTests
{
    private static readonly string[] s_core = ["Fe", "C", "Cr", "Mo", "V", "W", "Mn", "Si"];

    private static PhaseEnergy At(string phase, double temperatureK, IReadOnlyList<string> elements)
    {
        ParameterSet set = ParameterSet.ToolSteel;
        PhaseEnergy energy = new(PhaseModel.For(set.Phases.Single(p => p.Id == phase), elements)!, set.GasConstant);
        TemperatureBasis basis = new();
        basis.MoveTo(temperatureK);
        double[] values = new double[set.Functions.Count], slopes = new double[set.Functions.Count];
        for (int f = 0; f < values.Length; f++) (values[f], slopes[f]) = set.Functions[f].At(basis, values, slopes);
        energy.MoveTo(basis, values, slopes);
        return energy;
    }

    private static IEnumerable<(int Variable, double Value)> BySite(PhaseModel model, JsonElement table) => table.EnumerateObject().Select(p =>
    {
        string[] parts = p.Name.Split(':');
        return (model.IndexOf(int.Parse(parts[0], CultureInfo.InvariantCulture) - 1, parts[1]), p.Value.GetDouble());
    });

    public static TheoryData<int> Points => [.. Enumerable.Range(0, EquilibriumFiles.Oracle("gibbs-check-points.json").GetProperty("points").GetArrayLength())];

    [Theory]
    [MemberData(nameof(Points))]
    public void Energies_agree_with_every_check_point(int index)
    {
        JsonElement point = EquilibriumFiles.Oracle("gibbs-check-points.json").GetProperty("points")[index];
        HashSet<string> named = [.. point.GetProperty("siteFractions").EnumerateObject().Select(p => p.Name.Split(':')[1])];
        PhaseEnergy energy = At(point.GetProperty("phase").GetString()!, point.GetProperty("temperature_K").GetDouble(), [.. s_core.Where(named.Contains)]);
        double[] y = new double[energy.Model.Size];
        foreach ((int variable, double value) in BySite(energy.Model, point.GetProperty("siteFractions")))
            if (variable >= 0) y[variable] = value;
        for (int i = 0; i < y.Length; i++)
            Assert.True(y[i] > 0, $"point {index}: {energy.Model.Constituents[i]} on sublattice {energy.Model.SublatticeOf[i] + 1} has no site fraction in the file");

        double[] gradient = new double[y.Length], hessian = new double[y.Length * y.Length];
        double g = energy.Hessian(y, gradient, hessian), expected = point.GetProperty("G_J_per_mol_formula").GetDouble();
        Assert.True(Math.Abs(g - expected) <= 1e-8 * Math.Abs(expected), $"point {index}: G {g:R}, check point {expected:R}");
        Assert.Equal(g, energy.Value(y), 1e-9 * Math.Abs(g));
        if (!point.TryGetProperty("dG_dy_J", out JsonElement slopes)) return;
        foreach ((int variable, double value) in BySite(energy.Model, slopes))
            // Half a unit of the third decimal is what the file prints.
            Assert.True(Math.Abs(gradient[variable] - value) <= 5e-4 + 1e-8 * Math.Abs(value), $"point {index}, {energy.Model.Constituents[variable]}: dG/dy {gradient[variable]:R}, check point {value:R}");
    }

    [Theory]
    [InlineData("fcc", 900.0)]
    [InlineData("bcc", 900.0)]
    [InlineData("bcc", 1320.0)]
    [InlineData("M23C6", 1250.0)]
    [InlineData("M6C", 1400.0)]
    [InlineData("hcp", 700.0)]
    public void Gradient_Hessian_and_temperature_slope_are_the_differences_of_the_value(string phase, double temperatureK)
    {
        string[] elements = [.. s_core, "Ni", "Co", "Nb", "N"];
        PhaseEnergy energy = At(phase, temperatureK, elements);
        int n = energy.Model.Size;
        Random random = new(7);
        double[] y = new double[n];
        for (int s = 0; s + 1 < energy.Model.SublatticeStart.Length; s++)
        {
            double sum = 0;
            for (int i = energy.Model.SublatticeStart[s]; i < energy.Model.SublatticeStart[s + 1]; i++)
                sum += y[i] = energy.Model.Constituents[i] == "Fe" ? 5 : 0.1 + random.NextDouble();
            for (int i = energy.Model.SublatticeStart[s]; i < energy.Model.SublatticeStart[s + 1]; i++) y[i] /= sum;
        }

        double[] gradient = new double[n], hessian = new double[n * n], slope = new double[n], up = new double[n], down = new double[n];
        energy.Hessian(y, gradient, hessian);
        double valueSlope = energy.TemperatureSlope(y, slope);
        const double step = 1e-6;
        for (int i = 0; i < n; i++)
        {
            double keep = y[i];
            y[i] = keep + step;
            double above = energy.Gradient(y, up);
            y[i] = keep - step;
            double below = energy.Gradient(y, down);
            y[i] = keep;
            // Central differences of values near 1e5 with step 1e-6 carry about 1e-4 of rounding, and RT/y^3 step^2 of truncation.
            Assert.Equal((above - below) / (2 * step), gradient[i], 1e-2 + 1e-6 * Math.Abs(gradient[i]));
            for (int j = 0; j < n; j++) Assert.Equal((up[j] - down[j]) / (2 * step), hessian[i * n + j], 0.1 + 1e-6 * Math.Abs(hessian[i * n + j]));
        }
        double hot = At(phase, temperatureK + 0.01, elements).Gradient(y, up), cold = At(phase, temperatureK - 0.01, elements).Gradient(y, down);
        Assert.Equal((hot - cold) / 0.02, valueSlope, 1e-6 * Math.Abs(valueSlope) + 1e-4);
        for (int i = 0; i < n; i++) Assert.Equal((up[i] - down[i]) / 0.02, slope[i], 1e-6 * Math.Abs(slope[i]) + 1e-3);
    }
}
