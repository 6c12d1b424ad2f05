using System.Globalization;
using Meltwise.Domain;
using Meltwise.Metallurgy.Furnaces;

namespace Meltwise.Casework.Recording;

/// <summary>What a furnace trace tells of the soak, in sentences.</summary>
public static class FurnaceTraceWords
{
    // A soak that differs from its set value by less than this share or time is as set.
    private const double ShareOfSoak = 0.1, MinutesOfSoak = 1, SameSetC = 0.5;

    /// <summary>How the soak is read off, for notes and reports.</summary>
    public const string Definition = "The soak runs from the trace reaching the set value less the tolerance until it falls below that again, the longest such stretch, with straight lines between readings; a rise of more than 50 °C beyond the set value is another step (the sense of SAE AMS 2750 and ASTM A991, from memory).";

    /// <summary>The soak of a trace.</summary>
    public static FurnaceSoak Soak(FurnaceTrace trace) => FurnaceSoak.Of(trace.Minutes, trace.TemperatureC, trace.SetC, trace.ToleranceC);

    /// <summary>The step, its set value and what was recorded: <c>austenitize at 1130 ± 10 °C: 21.4 min at temperature, highest 1134 °C</c>.</summary>
    public static string Summary(FurnaceTrace trace)
    {
        FurnaceSoak soak = Soak(trace);
        string step = string.Create(CultureInfo.InvariantCulture, $"{trace.Step ?? "step not said"} at {trace.SetC:0.#} ± {trace.ToleranceC:0.#} °C"), extreme = string.Create(CultureInfo.InvariantCulture, $"{(trace.SetC < 0 ? "lowest" : "highest")} {soak.ExtremeC:0.#} °C");
        return soak.BeginsMin is null
            ? $"{step}: never at temperature, {extreme}"
            : string.Create(CultureInfo.InvariantCulture, $"{step}: {soak.Minutes:0.0} min at temperature, {extreme}");
    }

    /// <summary>What is to be doubted, in sentences; empty when nothing is.</summary>
    /// <param name="trace">The trace.</param>
    /// <param name="treatments">Treatments of the coupons in its load; their set values are held against it.</param>
    public static IEnumerable<string> Doubts(FurnaceTrace trace, IEnumerable<Treatment> treatments)
    {
        FurnaceSoak soak = Soak(trace);
        if (soak.BeginsMin is null)
        {
            yield return Say($"The trace never came within {trace.ToleranceC:0.#} °C of {trace.SetC:0.#} °C. Is the set value or the unit another?");
            yield break;
        }
        if (soak.OtherStepAtC is { } other) yield return Say($"The trace goes on to {other:0.#} °C, which is taken for another step and not for overshoot.");
        if (soak.IsOvershot) yield return Say($"Overshoot: {soak.OvershootC:0.#} °C beyond the set value of {trace.SetC:0.#} °C, tolerance {trace.ToleranceC:0.#} °C; {soak.Minutes - soak.WithinMinutes:0.0} min of the soak lay beyond it.");
        if (soak.IsCutOff) yield return "The trace begins or ends at temperature: the soak may have been longer.";
        if (soak.GapMinutes is { } gap) yield return Say($"Nothing was recorded for {gap:0.0} min of the soak.");
        if (soak.Stretches > 1) yield return Say($"The load was at temperature {soak.Stretches} times; the longest is the soak.");
        foreach (double planned in SetMinutes(trace, treatments).Distinct())
            if (Math.Abs(soak.Minutes - planned) > Math.Max(MinutesOfSoak, ShareOfSoak * planned))
                yield return Say($"The treatment sets {planned:0.#} min at {trace.SetC:0.#} °C; the trace has {soak.Minutes:0.0} min.");
    }

    private static IEnumerable<double> SetMinutes(FurnaceTrace trace, IEnumerable<Treatment> treatments) =>
        treatments.SelectMany(t => t.Steps).Select<TreatmentStep, (double Celsius, double? Minutes)>(s => s switch
        {
            TreatmentStep.Preheat p => (p.TemperatureC, p.Minutes),
            TreatmentStep.Austenitize a => (a.TemperatureC, a.SoakMinutes),
            TreatmentStep.SubZero z => (z.TemperatureC, z.Minutes),
            TreatmentStep.Temper t => (t.TemperatureC, t.Minutes),
            _ => (double.NaN, null),
        }).Where(s => Math.Abs(s.Celsius - trace.SetC) < SameSetC && s.Minutes is not null).Select(s => s.Minutes!.Value);

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
