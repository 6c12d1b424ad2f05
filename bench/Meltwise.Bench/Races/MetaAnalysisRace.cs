using Meltwise.Statistics.MetaAnalysis;

namespace Meltwise.Bench.Races;

/// <summary>Random-effects mean of 200 comparisons.</summary>
internal sealed class MetaAnalysisRace : IRace
{
    private double[] _y = [], _v = [];
    private RandomEffectsResult? _fit;

    public string Name => "meta";
    public string Work => "REML with Hartung-Knapp, 200 comparisons";
    public IReadOnlyList<string> Baselines => ["bench_meta.R {inputs}"];
    public double? Wanted => 5;

    public void Prepare(string inputs)
    {
        InputTable t = new(inputs, "meta200.csv");
        (_y, _v) = (t.Numbers("yi"), t.Numbers("vi"));
    }

    public void Run() => _fit = RandomEffectsMean.Fit(_y, _v, truncated: false);

    public IReadOnlyDictionary<string, double> Answers => new Dictionary<string, double> { ["tau2"] = _fit!.TauSquared, ["estimate"] = _fit.Mean, ["se_hk"] = _fit.StandardError };

    public IReadOnlyDictionary<string, double> Allowed => new Dictionary<string, double> { ["tau2"] = 1e-5, ["estimate"] = 1e-5, ["se_hk"] = 1e-5 };
}
