using Meltwise.Domain;

namespace Meltwise.Casework.Demonstration;

/// <summary>An invented heat: what it truly is, before anything is measured.</summary>
internal sealed record DemonstrationHeat(string Name, string Source, string Route, DateOnly Received, IReadOnlyDictionary<string, double> MassPercent, double HardnessHrc, double LogHeat)
{
    public const string PowderGrade = "EN ISO 4957 HS6-5-3C (powder)";
    public const string IngotGrade = "EN ISO 4957 HS6-5-3C";

    /// <summary>Aims of the invented practice, mass percent, with heat-to-heat standard deviations.</summary>
    private static readonly (string Element, double Aim, double Sd)[] s_practice =
    [
        ("C", 1.29, 0.055), ("Cr", 4.15, 0.12), ("Mo", 5.00, 0.10), ("V", 3.05, 0.06), ("W", 6.30, 0.12),
        ("Mn", 0.30, 0.03), ("Si", 0.45, 0.05), ("S", 0.018, 0.004), ("P", 0.020, 0.003), ("N", 0.048, 0.006), ("O", 0.0068, 0.0016),
    ];

    public static DemonstrationHeat Make(string name, string source, string route, DateOnly received, double carbonOffset, NormalDraws draws)
    {
        Dictionary<string, double> massPercent = s_practice.ToDictionary(p => p.Element, p => Math.Max(p.Aim / 3, draws.Next(p.Aim, p.Sd)), StringComparer.Ordinal);
        massPercent["C"] += carbonOffset;
        if (source == "Downriver") massPercent["O"] *= 0.65;
        if (route == "ingot") (massPercent["N"], massPercent["O"]) = (massPercent["N"] * 0.6, massPercent["O"] * 0.4);
        double hardness = PunchMakerModel.HardnessHrc
            + (PunchMakerModel.HrcPerCarbon * (massPercent["C"] - 1.29)) + (PunchMakerModel.HrcPerChromium * (massPercent["Cr"] - 4.15))
            + draws.Next(0, PunchMakerModel.HeatHardnessSd);
        return new(name, source, route, received, massPercent, hardness, draws.Next(0, PunchMakerModel.HeatSd));
    }

    public Heat Record() => new(
        Name, Source, Route == "powder" ? PowderGrade : IngotGrade, Route,
        Route == "powder" ? "Gas-atomised, hot isostatic pressing, forged and rolled; temperatures not stated by the source" : "Bottom-poured ingot, forged and rolled",
        "round bar, 32 mm", Received, "Invented for the demonstration.");

    /// <summary>An invented hot history of a powder heat: Downriver sieves finer and presses cooler.</summary>
    public HotHistory HotHistory() => Source == "Downriver"
        ? new(Name, [new("consolidation", 1120, 1120, 3), new("reheat", 1130, 950, 2)], 250, "nitrogen", "slow", "own estimate, not stated by the source; invented")
        : new(Name, [new("consolidation", 1150, 1150, 4), new("reheat", 1140, 950, 3)], 500, "nitrogen", "slow", "own estimate, not stated by the source; invented");
}

/// <summary>Seeded normal draws; the generator of the base library keeps its sequence for a seed.</summary>
internal sealed class NormalDraws(int seed)
{
    private readonly Random _random = new(seed);

    public double Next(double mean, double sd)
    {
        double radius = Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble()));
        return mean + (sd * radius * Math.Cos(2 * Math.PI * _random.NextDouble()));
    }

    /// <summary>Even between 0 and 1.</summary>
    public double Unit() => _random.NextDouble();

    public int Whole(int from, int toInclusive) => _random.Next(from, toInclusive + 1);

    public void Shuffle<T>(T[] items) => _random.Shuffle(items);
}
