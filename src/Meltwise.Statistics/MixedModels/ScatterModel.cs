using System.Globalization;

namespace Meltwise.Statistics.MixedModels;

/// <summary>How the residual standard deviation differs between readings. A closed set.</summary>
public abstract record ScatterModel
{
    private ScatterModel() { }

    /// <summary>One standard deviation for all readings.</summary>
    public sealed record Constant : ScatterModel;

    /// <summary>SD = σ·|v|^δ, v the fitted mean with its random effects, or a given covariate.</summary>
    /// <param name="Covariate">v of each reading, or null for the fitted mean.</param>
    public sealed record PowerOfMean(IReadOnlyList<double>? Covariate = null) : ScatterModel;

    /// <summary>A standard deviation of its own for each group.</summary>
    /// <param name="Groups">Group of each reading.</param>
    public sealed record ByGroup(RandomTerm Groups) : ScatterModel;

    /// <summary>Number of parameters besides σ.</summary>
    internal int Parameters => this switch { PowerOfMean => 1, ByGroup g => g.Groups.Labels.Count - 1, _ => 0 };

    internal string NameOf(int parameter) => this switch
    {
        ByGroup g => string.Create(CultureInfo.InvariantCulture, $"ln(SD of {g.Groups.Labels[parameter + 1]} over SD of {g.Groups.Labels[0]})"),
        _ => "exponent",
    };

    /// <summary>∂ ln SD_i/∂parameter: ln|v_i| for the power, an indicator for a group.</summary>
    internal double Slope(int parameter, int reading, double[] logMean) => this switch
    {
        PowerOfMean => logMean[reading],
        ByGroup g => g.Groups.Level[reading] == parameter + 1 ? 1 : 0,
        _ => 0,
    };
}

/// <summary>A random factor whose levels have an intercept, or several coefficients with a covariance of their own.</summary>
/// <param name="Factor">The factor.</param>
/// <param name="Columns">Columns that each level has a coefficient of; null for an intercept alone.</param>
public sealed record RandomCoefficients(RandomTerm Factor, IReadOnlyList<IReadOnlyList<double>>? Columns = null)
{
    internal int Width => Columns?.Count ?? 1;

    internal double Value(int column, int reading) => Columns is null ? 1 : Columns[column][reading];
}
