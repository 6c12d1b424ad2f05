using Meltwise.Metallurgy.Tempering;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>The one heat treatment that both heats had.</summary>
/// <param name="HardeningTemperatureC">Temperature of the load in the soak, °C.</param>
/// <param name="TemperaturesReachedC">Temperatures cooled to before tempering, °C; the coldest counts.</param>
/// <param name="Tempers">Tempers in order; none is untempered.</param>
public sealed record HardeningTreatment(double HardeningTemperatureC, IReadOnlyList<double> TemperaturesReachedC, IReadOnlyList<Temper> Tempers)
{
    /// <summary>Coldest temperature, °C.</summary>
    public double ColdestC => TemperaturesReachedC.Min();

    /// <summary>Hardening temperature, K.</summary>
    public double HardeningTemperatureK => HardeningTemperatureC + 273.15;
}
