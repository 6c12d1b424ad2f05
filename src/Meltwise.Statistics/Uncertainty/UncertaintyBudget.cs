using System.Globalization;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Statistics.Uncertainty;

/// <summary>One input quantity of a measurement.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Value">Estimate.</param>
/// <param name="StandardUncertainty">Standard uncertainty.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom; infinite where taken as known.</param>
public sealed record InputQuantity(string Name, double Value, double StandardUncertainty, double DegreesOfFreedom = double.PositiveInfinity);

/// <summary>The law of propagation of uncertainty.</summary>
/// <remarks>
/// <para><b>Formula.</b> u² = ΣΣ c_i c_j u_i u_j r_ij with sensitivities c_i = ∂f/∂x_i; ν_eff = u⁴/Σ(c_i u_i)⁴/ν_i for independent inputs;
/// expanded uncertainty U = t(ν_eff)·u. Sensitivities by central differences with a step of a thousandth of u_i, extrapolated once.</para>
/// <para><b>Limits.</b> First order: nearly linear over the range of the inputs; otherwise use <see cref="MonteCarloPropagation"/>.</para>
/// <para><b>Source.</b> [JCGM100], 5 and G.4.</para>
/// </remarks>
public static class UncertaintyBudget
{
    /// <summary>Propagates.</summary>
    /// <param name="inputs">Input quantities.</param>
    /// <param name="model">The measurement model, inputs in order.</param>
    /// <param name="correlation">Correlation matrix of the inputs; null where independent.</param>
    public static PropagatedUncertainty Propagate(IReadOnlyList<InputQuantity> inputs, Func<double[], double> model, double[,]? correlation = null)
    {
        ArgumentNullException.ThrowIfNull(inputs);
        ArgumentNullException.ThrowIfNull(model);
        double[] x = [.. inputs.Select(i => i.Value)];
        double[] sensitivity = [.. inputs.Select((input, i) => Sensitivity(model, x, i, input.StandardUncertainty))];
        double[] part = [.. inputs.Select((input, i) => sensitivity[i] * input.StandardUncertainty)];
        double variance = 0, spread = 0;
        for (int i = 0; i < part.Length; i++)
        {
            for (int j = 0; j < part.Length; j++) variance += part[i] * part[j] * (i == j ? 1 : correlation?[i, j] ?? 0);
            spread += Math.Pow(part[i], 4) / inputs[i].DegreesOfFreedom;
        }
        return new(model(x), Math.Sqrt(variance), spread > 0 ? variance * variance / spread : double.PositiveInfinity, inputs, sensitivity);
    }

    private static double Sensitivity(Func<double[], double> model, double[] x, int i, double u)
    {
        if (u == 0) return 0;
        double Central(double h)
        {
            double[] up = (double[])x.Clone(), down = (double[])x.Clone();
            up[i] += h;
            down[i] -= h;
            return (model(up) - model(down)) / (up[i] - down[i]);
        }
        double step = u / 50;
        return (4 * Central(step) - Central(2 * step)) / 3;
    }
}

/// <summary>A measured value with its propagated uncertainty.</summary>
/// <param name="Value">Estimate.</param>
/// <param name="StandardUncertainty">Combined standard uncertainty.</param>
/// <param name="EffectiveDegreesOfFreedom">Effective degrees of freedom.</param>
/// <param name="Inputs">The inputs.</param>
/// <param name="Sensitivities">Their sensitivities.</param>
public sealed record PropagatedUncertainty(double Value, double StandardUncertainty, double EffectiveDegreesOfFreedom, IReadOnlyList<InputQuantity> Inputs, IReadOnlyList<double> Sensitivities)
{
    /// <summary>Expanded uncertainty; degrees of freedom are cut to the integer below, as the guide advises.</summary>
    public double Expanded(double level) => StandardUncertainty * StudentT.Quantile(0.5 + level / 2, Math.Floor(EffectiveDegreesOfFreedom + 1e-9));

    /// <summary>Share of the variance that each independent input brings, 0 to 1.</summary>
    public IReadOnlyList<double> Shares => [.. Inputs.Select((q, i) => Math.Pow(Sensitivities[i] * q.StandardUncertainty / StandardUncertainty, 2))];

    /// <summary>The result as a sentence.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture,
        $"{Value:G6} ± {Expanded(0.95):G2} (95 %, {EffectiveDegreesOfFreedom:F0} effective degrees of freedom)");
}
