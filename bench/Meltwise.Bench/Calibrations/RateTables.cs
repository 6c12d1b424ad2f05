namespace Meltwise.Calibrations;

/// <summary>All tables of simulated rates; a new one is one line here, its results one file in bench/results.</summary>
internal static class RateTables
{
    public static IReadOnlyList<RateTable> All { get; } =
    [
        AsTestedRates.Table, BenchRates.EqualHardness, BenchRates.Sources, BenchRates.HardnessMargins, PairsRates.Table, StudyRates.Family, StudyRates.NoChange,
        SecondaryRates.Several, SecondaryRates.Conforming, IntervalRates.TwoLots, ChoiceRates.Table, IntervalRates.CensoredLots, IntervalRates.OneLot, IntervalRates.Extremes, ModelRates.Mixed, ModelRates.Lines,
    ];
}
