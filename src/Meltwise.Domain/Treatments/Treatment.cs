using System.Globalization;

namespace Meltwise.Domain;

/// <summary>One step of a heat treatment, with its set values. A closed set.</summary>
public abstract record TreatmentStep
{
    private TreatmentStep() { }

    /// <summary>Heat through before the hardening temperature.</summary>
    public sealed record Preheat(double TemperatureC, double? Minutes) : TreatmentStep;

    /// <summary>Heat to form austenite: hardening temperature and soak (time with the load at temperature).</summary>
    public sealed record Austenitize(double TemperatureC, double? SoakMinutes) : TreatmentStep;

    /// <summary>Cool: oil, plate, gas, salt, air.</summary>
    public sealed record Quench(string Medium, double? ToC) : TreatmentStep;

    /// <summary>Sub-zero step: cold (about -80 °C) or cryogenic (-150 °C or below).</summary>
    public sealed record SubZero(double TemperatureC, double? Minutes) : TreatmentStep;

    /// <summary>One temper.</summary>
    public sealed record Temper(double TemperatureC, double? Minutes) : TreatmentStep;

    /// <summary>As a shop sheet writes it.</summary>
    public sealed override string ToString() => this switch
    {
        Preheat p => Write("preheat", p.TemperatureC, p.Minutes),
        Austenitize a => Write("austenitize", a.TemperatureC, a.SoakMinutes),
        Quench q => q.ToC is { } c ? string.Create(CultureInfo.InvariantCulture, $"quench in {q.Medium} to {c:0.#} °C") : $"quench in {q.Medium}",
        SubZero s => Write("sub-zero", s.TemperatureC, s.Minutes),
        Temper t => Write("temper", t.TemperatureC, t.Minutes),
        _ => throw new System.Diagnostics.UnreachableException(),
    };

    private static string Write(string step, double celsius, double? minutes) => minutes is { } m
        ? string.Create(CultureInfo.InvariantCulture, $"{step} {celsius:0.#} °C, {m:0.#} min")
        : string.Create(CultureInfo.InvariantCulture, $"{step} {celsius:0.#} °C");
}

/// <summary>A heat treatment: a name that is only a label, and the steps that decide whether two lots were treated alike.</summary>
/// <param name="Name">Label on this bench.</param>
/// <param name="Steps">Steps in order.</param>
/// <param name="Notes">Free text.</param>
/// <param name="StatedTemperFamily">Low or high temper as a table stated it, for a treatment whose steps are unknown.</param>
public sealed record Treatment(string Name, IReadOnlyList<TreatmentStep> Steps, string? Notes = null, string? StatedTemperFamily = null)
{
    /// <summary>Low when every temper is at or below 250 °C, high when the last is at or above 450 °C, otherwise null; as stated when there are no tempers.</summary>
    /// <remarks>Limits of the handbook's vocabulary (from memory of ASTM A941 usage).</remarks>
    public string? TemperFamily
    {
        get
        {
            double[] tempers = [.. Steps.OfType<TreatmentStep.Temper>().Select(t => t.TemperatureC)];
            return tempers.Length == 0 ? StatedTemperFamily : tempers.All(c => c <= 250) ? "low" : tempers[^1] >= 450 ? "high" : null;
        }
    }

    /// <summary>The set values as one line; two treatments are alike when these lines are equal, whatever their names. Without steps the name is all that is known.</summary>
    public string SetValues => Steps.Count == 0 ? Name : string.Join("; ", Steps);
}
