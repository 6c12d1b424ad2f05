using System.Text.Json;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Statistics.Resampling;
using Meltwise.Statistics.Trend;
using static System.FormattableString;

namespace Meltwise.Calibrations;

/// <summary>Questions B and C of the other program's designs, drawn as benches and judged by the verdict's own steps.</summary>
internal static class RecordedBench
{
    private const double LotMeanError = 0.06;
    private const int CouponsOfLot = 6, CouponsOfHeat = 5;

    public static IReadOnlyList<RecordedKind> Of(JsonElement root)
    {
        JsonElement[] hardness = [.. root.GetProperty("equalHardness").GetProperty("rows").EnumerateArray()];
        JsonElement sources = root.GetProperty("sources");
        return
        [
            RecordedRates.Kind("equal hardness", "All steps of question B. The error of coupon hardness is estimated here and known there; designs with an error of 0.05 HRC of a heat mean have one of 0.046 of a lot's instead of 0.06.", ["cover95", "cover90", "refused"],
                hardness.Select(r => (r, r.GetProperty("errorsInVariables"), EqualHardness(r, NoteCorrected))), 1_000, 100, 16, 521, 0.003),
            RecordedRates.Kind("equal hardness, slope uncorrected (a choice of how firm)", "The same with the uncorrected slope. The product counts the lots' hardness error, the other program does not.", ["cover95", "cover90"],
                hardness.Select(r => (r, r.GetProperty("mixedModel"), EqualHardness(r, NoteUncorrected))), 1_000, 100, 16, 522, 0.006),
            RecordedRates.Kind("slope on hardness", "The trend of question B, corrected and not.", ["correctedCover95", "uncorrectedCover95"],
                hardness.Select(r => (r, r.GetProperty("slope"), EqualHardness(r, NoteSlope))), 1_000, 100, 16, 523, 0.003),
            RecordedRates.Kind("sources, one heat each", "All steps of question C, 8 old heats and more of other sources.", ["cover95", "cover90"],
                sources.GetProperty("rows").EnumerateArray().Where(r => RecordedRates.Count(r, "heats") >= 8).Select(r => (r, r.GetProperty("widened"), OneHeatEach(r))), 4_000, 200, 6, 524),
            RecordedRates.Kind("sources, a newcomer", "All steps of question C.", ["cover95", "cover90"], sources.GetProperty("newcomer").EnumerateArray().Select(r => (r, r, Newcomer(r))), 4_000, 200, 3, 525),
            RecordedRates.Kind("sources, several heats each and no history", "All steps of question C.", ["cover95", "cover90"],
                sources.GetProperty("severalHeats").EnumerateArray().Select(r => (r, r.GetProperty("heatsRandom"), SeveralHeats(r))), 4_000, 200, 4, 526),
        ];
    }

    private static Design EqualHardness(JsonElement r, Action<Tally, Assessment> note)
    {
        int heats = RecordedRates.Count(r, "heats");
        double spread = RecordedRates.Number(r, "hardnessSd"), error = RecordedRates.Number(r, "hardnessErrorOfHeatMean"), heatSd = RecordedRates.Number(r, "heatSd"), difference = RecordedRates.Number(r, "hardnessDifference");
        // The lots' mean error fixes that of a coupon; what a heat mean errs beyond it is between sessions, and recorded.
        double coupon = Math.Min(LotMeanError * Math.Sqrt(CouponsOfLot), error * Math.Sqrt(CouponsOfHeat)), session = Math.Sqrt(Math.Max(0, error * error - coupon * coupon / CouponsOfHeat));
        SimulatedBench bench = new()
        {
            HeatsOfSource = [0, heats],
            CouponsOfHeat = [CouponsOfHeat],
            Coupons = CouponsOfLot,
            HeatSd = heatSd,
            HardnessSd = spread,
            CouponHardnessSd = coupon,
            SessionSd = session,
            HardnessDifference = difference,
            Rule = new() { Property = "impact energy", Margin = new Margin.Ratio(0.8, 1.25), Estimand = Estimand.EqualHardness, SessionSdHrc = session },
        };
        return new(Invariant($"{heats} heats over {spread} HRC, error of a heat mean {error}, heat spread {heatSd}, ΔH {difference}"), (ref RandomStream random, Tally tally) => note(tally, bench.Judge(ref random)));
    }

    private static void NoteCorrected(Tally tally, Assessment a)
    {
        EqualHardness b = a.EqualHardness!;
        tally.Add(2, b.Refused == Reason.HardnessSpreadTooSmall);
        if (!b.Stands) return;
        tally.Add(0, (b.Ratio!.Lower, b.Ratio.Upper), 1);
        tally.Add(1, (b.RatioForMargin!.Lower, b.RatioForMargin.Upper), 1);
    }

    private static void NoteUncorrected(Tally tally, Assessment a)
    {
        if (a.EqualHardnessStep is not { Trend: { } trend } step) return;
        JudgedContrast judged = step.Judge(a.Rule, new(trend.SlopeUncorrected, trend.SlopeUncorrectedSe, trend.DegreesOfFreedom), a.AsTestedStep!.Parts, a.AsTestedStep.Contrast.Estimate);
        tally.Add(0, judged.Wide, 0);
        tally.Add(1, judged.Narrow, 0);
    }

    private static void NoteSlope(Tally tally, Assessment a)
    {
        if (a.EqualHardnessStep is not { Trend: { } trend }) return;
        if (trend.Attenuation >= 0.5) tally.Add(0, trend.SlopeInterval(0.95), SimulatedBench.TrueSlope);
        HeatTrend plain = trend with { Attenuation = 1, SlopeSe = trend.SlopeUncorrectedSe };
        tally.Add(1, plain.SlopeInterval(0.95), SimulatedBench.TrueSlope);
    }

    private static Design OneHeatEach(JsonElement r) => Sources(
        Invariant($"{RecordedRates.Count(r, "heats")} old heats of {RecordedRates.Count(r, "couponsPerHistoricalHeat")}, lots of {RecordedRates.Count(r, "couponsPerLot")}, heat spread {RecordedRates.Number(r, "heatSd")}"),
        new() { HeatsOfSource = [0, 0, RecordedRates.Count(r, "heats")], CouponsOfHeat = [RecordedRates.Count(r, "couponsPerHistoricalHeat")], Coupons = RecordedRates.Count(r, "couponsPerLot"), HeatSd = RecordedRates.Number(r, "heatSd") });

    private static Design Newcomer(JsonElement r) => Sources(
        Invariant($"{RecordedRates.Count(r, "heatsOfOldSource")} heats of {RecordedRates.Count(r, "couponsPerHeat")}, heat spread {RecordedRates.Number(r, "heatSd")}"),
        new() { HeatsOfSource = [0, RecordedRates.Count(r, "heatsOfOldSource") - 1], CouponsOfHeat = [RecordedRates.Count(r, "couponsPerHeat")], Coupons = RecordedRates.Count(r, "couponsPerHeat"), HeatSd = RecordedRates.Number(r, "heatSd") });

    private static Design SeveralHeats(JsonElement r) => Sources(
        Invariant($"{RecordedRates.Count(r, "heatsPerSource")} heats of {RecordedRates.Count(r, "couponsPerHeat")}, heat spread {RecordedRates.Number(r, "heatSd")}"),
        new() { HeatsOfRole = RecordedRates.Count(r, "heatsPerSource"), Coupons = RecordedRates.Count(r, "couponsPerHeat"), HeatSd = RecordedRates.Number(r, "heatSd") });

    private static Design Sources(string name, SimulatedBench bench)
    {
        SimulatedBench asked = bench with { HardnessSd = 0, Rule = new() { Property = "impact energy", Margin = new Margin.Ratio(0.8, 1.25), Estimand = Estimand.Sources } };
        return new(name, (ref RandomStream random, Tally tally) =>
        {
            if (asked.Judge(ref random).Sources is not { Stands: true } c) return;
            tally.Add(0, (c.Ratio!.Lower, c.Ratio.Upper), 1);
            tally.Add(1, (c.RatioForMargin!.Lower, c.RatioForMargin.Upper), 1);
        });
    }
}
