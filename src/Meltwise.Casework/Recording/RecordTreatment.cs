using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>Records a treatment and looks for slips in its steps.</summary>
/// <remarks>Ranges are common practice, no source: austenitize 750 to 1300 °C, temper 80 to 750 °C, sub-zero -200 to 10 °C, preheat 300 to 1100 °C.
/// A figure above its range that falls into it when read as °F is asked about.</remarks>
public sealed class RecordTreatment(IBench bench)
{
    /// <summary>Adds a treatment, or corrects it with a reason.</summary>
    public Outcome<Treatment> Run(Treatment treatment, Hand hand, string? why = null)
    {
        if (string.IsNullOrWhiteSpace(treatment.Name)) return Outcome<Treatment>.Refused("The treatment has no name. Give a short label.");
        Finding[] findings = [.. Order(treatment.Steps), .. treatment.Steps.SelectMany(Temperatures)];
        if (Array.Exists(findings, f => f.Weight == FindingWeight.Fault)) return new(null, findings);
        Treatment? alike = bench.Treatments().FirstOrDefault(t => t.Name != treatment.Name && t.Steps.Count > 0 && t.SetValues == treatment.SetValues);
        bench.Commit(hand.By, why, [new BenchChange.PutTreatment(treatment)]);
        return Outcome<Treatment>.Stored(treatment, alike is null ? findings : [.. findings, Finding.Note($"The same set values are recorded as {alike.Name}; the two count as one treatment.")]);
    }

    private static IEnumerable<Finding> Order(IReadOnlyList<TreatmentStep> steps)
    {
        int last = -1;
        foreach (TreatmentStep step in steps)
        {
            int place = step switch { TreatmentStep.Preheat => 0, TreatmentStep.Austenitize => 1, TreatmentStep.Quench => 2, TreatmentStep.SubZero => 3, _ => 3 };
            if (place < last) yield return Finding.Warning($"\"{step}\" stands after a later kind of step. Is the order right?");
            last = Math.Max(last, place);
        }
        if (steps.OfType<TreatmentStep.Temper>().Any() && !steps.OfType<TreatmentStep.Austenitize>().Any()) yield return Finding.Warning("There are tempers but no austenitizing.");
    }

    private static IEnumerable<Finding> Temperatures(TreatmentStep step)
    {
        (double celsius, double low, double high)? range = step switch
        {
            TreatmentStep.Preheat p => (p.TemperatureC, 300, 1100),
            TreatmentStep.Austenitize a => (a.TemperatureC, 750, 1300),
            TreatmentStep.SubZero s => (s.TemperatureC, -200, 10),
            TreatmentStep.Temper t => (t.TemperatureC, 80, 750),
            _ => null,
        };
        if (range is not var (celsius, low, high) || (celsius >= low && celsius <= high)) yield break;
        double asFahrenheit = (celsius - 32) * 5 / 9;
        string found = string.Create(CultureInfo.InvariantCulture, $"\"{step}\": expected {low:0} to {high:0} °C");
        yield return asFahrenheit >= low && asFahrenheit <= high
            ? Finding.Fault(string.Create(CultureInfo.InvariantCulture, $"{found}. Was {celsius:0} °F meant, which is {asFahrenheit:0} °C?"))
            : Finding.Warning($"{found}. Is it right?");
    }
}
