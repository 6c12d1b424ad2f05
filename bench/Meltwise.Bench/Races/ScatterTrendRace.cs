using Meltwise.Statistics.LeastSquares;

namespace Meltwise.Bench.Races;

/// <summary>Generalized least squares with a power of the fitted mean.</summary>
internal sealed class ScatterTrendRace : IRace
{
    private double[] _y = [];
    private double[][] _columns = [];
    private string[] _names = [];
    private ScatterTrendFit? _fit;

    public string Name => "scatter-trend";
    public string Work => "generalized least squares, SD a power of the fitted mean, 2000 coupons, 8 coefficients";
    public IReadOnlyList<string> Baselines => ["bench_gls.R {inputs}"];
    public double? Wanted => 5;

    public void Prepare(string inputs)
    {
        InputTable t = new(inputs, "gls2000.csv");
        _y = t.Numbers("energy_j");
        _columns = [[.. _y.Select(_ => 1.0)], t.Is("heat", "B"), .. Enumerable.Range(2, 5).Select(k => t.Is("condition", $"C{k}")), t.Numbers("hrc")];
        _names = [.. _columns.Select((_, j) => $"c{j}")];
    }

    public void Run() => _fit = ScatterTrendRegression.Fit(_y, _columns, _names);

    public IReadOnlyDictionary<string, double> Answers => new Dictionary<string, double>
    {
        ["power"] = _fit!.Exponent,
        ["heat_B"] = _fit.Coefficients[1],
        ["se_heat_B"] = _fit.StandardErrors[1],
        ["loglik"] = _fit.LogLikelihood,
    };

    public IReadOnlyDictionary<string, double> Allowed => new Dictionary<string, double> { ["power"] = 2e-4, ["heat_B"] = 2e-4, ["se_heat_B"] = 2e-5, ["loglik"] = 2e-2 };
}
