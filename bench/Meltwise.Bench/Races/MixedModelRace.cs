using Meltwise.Statistics.MixedModels;

namespace Meltwise.Bench.Races;

/// <summary>Restricted maximum likelihood with sources and heats random.</summary>
internal sealed class MixedModelRace : IRace
{
    private double[] _y = [], _hardness = [], _ones = [];
    private RandomTerm[] _terms = [];
    private MixedFit? _fit;

    public string Name => "mixed";
    public string Work => "REML, 5000 coupons, 400 heats, 12 sources, both random";
    public IReadOnlyList<string> Baselines => ["bench_lmer.R {inputs}"];
    public double? Wanted => 5;

    public void Prepare(string inputs)
    {
        InputTable t = new(inputs, "coupons5000.csv");
        _y = [.. t.Numbers("energy_j").Select(v => Math.Log(v))];
        _hardness = [.. t.Numbers("hrc").Select(h => h - 60)];
        _ones = [.. _y.Select(_ => 1.0)];
        _terms = [RandomTerm.Of("heat", t.Text("heat")), RandomTerm.Of("source", t.Text("supplier"))];
    }

    public void Run() => _fit = LinearMixedModel.Fit(_y, [_ones, _hardness], ["mean", "per HRC"], _terms);

    public IReadOnlyDictionary<string, double> Answers => new Dictionary<string, double>
    {
        ["sd_heat"] = _fit!.Components[0].StandardDeviation,
        ["sd_supplier"] = _fit.Components[1].StandardDeviation,
        ["sd_resid"] = _fit.Components[2].StandardDeviation,
        ["hrc_slope"] = _fit.Coefficients[1],
        ["reml_criterion"] = -2 * _fit.LogLikelihood,
    };

    public IReadOnlyDictionary<string, double> Allowed => new Dictionary<string, double>
    {
        ["sd_heat"] = 2e-6,
        ["sd_supplier"] = 2e-5,
        ["sd_resid"] = 2e-6,
        ["hrc_slope"] = 1e-6,
        ["reml_criterion"] = 1e-4,
    };
}
