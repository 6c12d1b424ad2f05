using Meltwise.Statistics.Resampling;

namespace Meltwise.Bench.Races;

/// <summary>Bias-corrected and accelerated bootstrap of a difference of mean logarithms.</summary>
internal sealed class BootstrapRace : IRace
{
    private double[] _a = [], _b = [];
    private BootstrapResult? _result;

    public string Name => "bootstrap";
    public string Work => "BCa, 10000 resamples, difference of mean logarithms, 9 + 9 coupons";
    public IReadOnlyList<string> Baselines => ["bench_boot.py {inputs}", "bench_boot.R {inputs}"];
    public double? Wanted => 1;

    public void Prepare(string inputs)
    {
        InputTable t = new(inputs, "two9.csv");
        double[] logs = [.. t.Numbers("energy_j").Select(v => Math.Log(v))];
        _a = [.. logs.Where((_, i) => t.Text("heat")[i] == "A")];
        _b = [.. logs.Where((_, i) => t.Text("heat")[i] == "B")];
    }

    public void Run() => _result = Bootstrap.TwoSample(_a, _b, static (x, y) => Mean(x) - Mean(y), 10_000, 1);

    private static double Mean(ReadOnlySpan<double> x)
    {
        double sum = 0;
        foreach (double v in x) sum += v;
        return sum / x.Length;
    }

    public IReadOnlyDictionary<string, double> Answers => new Dictionary<string, double> { ["lo"] = _result!.Bca.Lower, ["hi"] = _result.Bca.Upper };

    public IReadOnlyDictionary<string, double> Allowed => new Dictionary<string, double> { ["lo"] = 0.008, ["hi"] = 0.008 };
}
