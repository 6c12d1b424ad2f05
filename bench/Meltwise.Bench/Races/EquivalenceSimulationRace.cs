using Meltwise.Casework.Planning;

namespace Meltwise.Bench.Races;

/// <summary>The planner's own kernel on one plan, against vectorised simulation.</summary>
internal sealed class EquivalenceSimulationRace : IRace
{
    private PlanTable? _table;

    public string Name => "equivalence-simulation";
    public string Work => "100000 simulated equivalence tests, 9 + 9 coupons, margin 0.80..1.25, scatter 0.15, true ratio 0.97";
    public IReadOnlyList<string> Baselines => ["bench_tost.py", "bench_tost.R"];
    public double? Wanted => 5;

    public void Prepare(string inputs) { }

    public void Run() => _table = OutcomeOdds.Of(new()
    {
        MarginLow = 0.8,
        MarginHigh = 1.25,
        WithinHeatSd = 0.15,
        Coupons = [9],
        Truths = [0.97],
        Replicates = 100_000,
        Seed = 3,
    });

    public IReadOnlyDictionary<string, double> Answers => new Dictionary<string, double> { ["power"] = _table!.Table[0].Agreement };

    public IReadOnlyDictionary<string, double> Allowed => new Dictionary<string, double> { ["power"] = 0.006 };
}
