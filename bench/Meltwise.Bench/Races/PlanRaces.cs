using Meltwise.Casework.Planning;

namespace Meltwise.Bench.Races;

/// <summary>The planning table as tested: 13 coupon numbers, 20000 replicates; asked for: under 5 s.</summary>
internal sealed class PlanAsTestedRace : IRace
{
    private PlanTable? _table;

    public string Name => "plan-as-tested";
    public string Work => "planning table as tested, 13 coupon numbers × 20000 replicates; asked for: under 5 s";
    public IReadOnlyList<string> Baselines => [];
    public double? Wanted => null;

    public void Prepare(string inputs) { }

    public void Run() => _table = OutcomeOdds.Of(new()
    {
        MarginLow = 0.8,
        MarginHigh = 1.25,
        WithinHeatSd = 0.12,
        WithinHeatSdDf = 60,
        Coupons = [.. Enumerable.Range(3, 13)],
        Replicates = 20_000,
    });

    public IReadOnlyDictionary<string, double> Answers => new Dictionary<string, double> { ["agreementAt9"] = _table!.Table[6].Agreement };

    public IReadOnlyDictionary<string, double> Allowed => new Dictionary<string, double>();
}

/// <summary>The planning table of sources on 40 old heats, restricted maximum likelihood in every replicate; asked for: under 60 s.</summary>
internal sealed class PlanSourcesRace : IRace
{
    private PlanTable? _table;

    public string Name => "plan-sources";
    public string Work => "planning table of sources on 40 old heats, 13 coupon × 4 heat numbers × 20000 replicates, REML in each; asked for: under 60 s";
    public IReadOnlyList<string> Baselines => [];
    public double? Wanted => null;

    public void Prepare(string inputs) { }

    public void Run() => _table = OutcomeOdds.Of(new()
    {
        MarginLow = 0.8,
        MarginHigh = 1.25,
        WithinHeatSd = 0.12,
        HeatSd = 0.06,
        Coupons = [.. Enumerable.Range(3, 13)],
        Heats = [1, 2, 3, 4],
        History = new(10, 6, [8, 8, 8], 5),
        Replicates = 20_000,
    });

    public IReadOnlyDictionary<string, double> Answers => new Dictionary<string, double> { ["agreementAt3HeatsOf6"] = _table!.Table[29].Agreement };

    public IReadOnlyDictionary<string, double> Allowed => new Dictionary<string, double>();
}
