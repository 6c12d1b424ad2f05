using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Web.Enquiries;

/// <summary>The lines on which a heat treatment is recorded, step by step with its set values in °C and minutes.</summary>
public sealed class TreatmentForm
{
    public string? Name { get; set; }

    public string? PreheatC { get; set; }

    public string? PreheatMin { get; set; }

    public string? HardenC { get; set; }

    public string? HardenMin { get; set; }

    public string? Quench { get; set; }

    public string? ColdC { get; set; }

    public string? ColdMin { get; set; }

    public string? Tempers { get; set; }

    public string? TemperC { get; set; }

    public string? TemperMin { get; set; }

    /// <summary>The treatment, or what is wrong.</summary>
    public (Treatment? Treatment, string? Fault) Read()
    {
        if (string.IsNullOrWhiteSpace(Name))
        {
            return (null, "A treatment needs a name. Nothing was stored.");
        }

        var steps = new List<TreatmentStep>();
        string? fault = Step(PreheatC, PreheatMin, "preheat", (c, m) => steps.Add(new TreatmentStep.Preheat(c, m)))
            ?? Step(HardenC, HardenMin, "austenitize", (c, m) => steps.Add(new TreatmentStep.Austenitize(c, m)))
            ?? AddQuench(steps)
            ?? Step(ColdC, ColdMin, "sub-zero", (c, m) => steps.Add(new TreatmentStep.SubZero(c, m)))
            ?? AddTempers(steps);
        if (fault is null && !steps.OfType<TreatmentStep.Austenitize>().Any())
        {
            fault = $"“{Name.Trim()}” is new to the bench, so its steps are needed: at least the temperature of austenitizing in °C. Nothing was stored.";
        }

        return fault is null ? (new Treatment(Name.Trim(), steps), null) : (null, fault);
    }

    private string? AddQuench(List<TreatmentStep> steps)
    {
        if (!string.IsNullOrWhiteSpace(Quench))
        {
            steps.Add(new TreatmentStep.Quench(Quench.Trim(), null));
        }

        return null;
    }

    private string? AddTempers(List<TreatmentStep> steps)
    {
        int times = string.IsNullOrWhiteSpace(Tempers) ? 1 : int.TryParse(Tempers.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int t) && t is >= 1 and <= 9 ? t : 0;
        return times == 0
            ? "The number of tempers is a whole number from 1 to 9. Nothing was stored."
            : Step(TemperC, TemperMin, "temper", (c, m) => steps.AddRange(Enumerable.Repeat(new TreatmentStep.Temper(c, m), times)));
    }

    private static string? Step(string? celsius, string? minutes, string name, Action<double, double?> add)
    {
        if (string.IsNullOrWhiteSpace(celsius))
        {
            return null;
        }

        if (!TryNumber(celsius, out double c) || c is < -273.15 or > 1400)
        {
            return $"The temperature of {name} is a number of °C from −273 to 1400; found “{celsius.Trim()}”. Was it °F? Nothing was stored.";
        }

        if (string.IsNullOrWhiteSpace(minutes))
        {
            add(c, null);
            return null;
        }

        if (!TryNumber(minutes, out double m) || m <= 0)
        {
            return $"The time of {name} is a number of minutes above 0; found “{minutes.Trim()}”. Nothing was stored.";
        }

        add(c, m);
        return null;
    }

    private static bool TryNumber(string text, out double value) =>
        double.TryParse(text.Trim().Replace(',', '.').Replace('\u2212', '-'), NumberStyles.Float, CultureInfo.InvariantCulture, out value);
}
