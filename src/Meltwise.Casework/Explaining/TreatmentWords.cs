using System.Globalization;
using Meltwise.Domain;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Tempering;

namespace Meltwise.Casework.Explaining;

/// <summary>Between a recorded treatment and the one the metallurgy computes with.</summary>
public static class TreatmentWords
{
    private const double RoomTemperatureC = 20;

    /// <summary>What the computation needs of a treatment: hardening temperature, temperatures reached before tempering, tempers. Null with a reason when the hardening temperature or a temper's time is not recorded.</summary>
    public static HardeningTreatment? ToHardening(Treatment treatment, out string missing)
    {
        missing = "";
        if (treatment.Steps.OfType<TreatmentStep.Austenitize>().LastOrDefault() is not { } austenitize)
        {
            missing = $"treatment {treatment.Name} records no hardening temperature";
            return null;
        }
        if (treatment.Steps.OfType<TreatmentStep.Temper>().FirstOrDefault(t => t.Minutes is null) is { } timeless)
        {
            missing = string.Create(CultureInfo.InvariantCulture, $"treatment {treatment.Name} records no time for the temper at {timeless.TemperatureC:0} °C");
            return null;
        }
        double[] reached = [.. treatment.Steps.OfType<TreatmentStep.Quench>().Select(q => q.ToC ?? RoomTemperatureC), .. treatment.Steps.OfType<TreatmentStep.SubZero>().Select(s => s.TemperatureC)];
        return new(austenitize.TemperatureC, reached.Length > 0 ? reached : [RoomTemperatureC],
            [.. treatment.Steps.OfType<TreatmentStep.Temper>().Select(t => new Temper(t.TemperatureC, t.Minutes!.Value / 60))]);
    }

    /// <summary>The treatment in a line.</summary>
    public static string Of(HardeningTreatment treatment)
    {
        string tempers = treatment.Tempers.Count == 0 ? "not tempered"
            : string.Join(", ", treatment.Tempers.Select(t => string.Create(CultureInfo.InvariantCulture, $"{t.TemperatureC:0.#} °C / {t.Hours:0.##} h")));
        return string.Create(CultureInfo.InvariantCulture, $"hardened from {treatment.HardeningTemperatureC:0.#} °C, cooled to {treatment.ColdestC:0.#} °C, tempered {tempers}");
    }
}
