using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Hardness;
using Meltwise.Metallurgy.Sources;
using Meltwise.Metallurgy.Tempering;
using Meltwise.Metallurgy.Transformation;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>What one equilibrium means for the coupon: martensite start by every formula, retained austenite, hardness after the quench, and what tempering does to it.</summary>
/// <remarks>
/// <para><b>Method.</b> <see cref="MartensiteStart"/>, <see cref="KoistinenMarburger"/>, <see cref="QuenchedHardness"/>, <see cref="TemperShift"/> on the austenite of the equilibrium.</para>
/// <para><b>Outside.</b> Hardness is null, with the reason in the notes, where a curve ends or no law is given; the rest is still answered.</para>
/// </remarks>
public static class HardeningForecast
{
    /// <summary>Forecast from an equilibrium.</summary>
    /// <param name="equilibrium">Equilibrium at the hardening temperature; it must hold austenite.</param>
    /// <param name="temperaturesReachedC">Temperatures cooled to before tempering, °C; at least one.</param>
    /// <param name="tempers">Tempers in order; may be empty.</param>
    /// <param name="soak">What the soak reaches; null takes equilibrium.</param>
    /// <exception cref="ChainRefusedException">No austenite.</exception>
    /// <exception cref="ArgumentException">No cooling temperature.</exception>
    public static HardeningForecastResult Of(EquilibriumResult equilibrium, IReadOnlyList<double> temperaturesReachedC, IReadOnlyList<Temper> tempers, ISoakAssumption? soak = null)
    {
        AlloyContent steel = EquilibriumSoak.Alloy(equilibrium.Steel.MassPercent);
        SoakedState soaked = soak is null ? EquilibriumSoak.StateOf(equilibrium) : soak.Near(steel, equilibrium.TemperatureK).Of(steel);
        soak ??= new EquilibriumSoak();
        MartensiteStartResult ms = MartensiteStart.Of(soaked.Austenite);
        RetainedAustenite retained = KoistinenMarburger.After(ms, temperaturesReachedC, soaked.Carbides.Total);
        HardeningTreatment treatment = new(equilibrium.TemperatureC, temperaturesReachedC, tempers);
        TemperShift temper = TemperShift.Of(treatment, [steel], soak);
        List<string> notes = [soak.Words, .. temper.Notes];
        QuenchedHardnessResult? quenched = null;
        try
        {
            quenched = QuenchedHardness.Of(soaked.Austenite.C, retained.OfMatrix, soaked.Carbides.Total);
        }
        catch (OutsideModelRangeException refused)
        {
            notes.Add($"No hardness: {refused.Message}");
        }
        double? tempered = quenched is null || !temper.IsTempered ? null : new HardnessChain(treatment, temper.Hrc).Of(soaked, ChainErrors.None).HardnessHrc;
        return new(soaked, ms, retained, quenched, tempered, tempers.Count == 0 ? null : TemperingParameter.Of(tempers), temper, notes);
    }
}

/// <summary>Forecast of a hardening.</summary>
/// <param name="Soaked">Austenite and undissolved carbide.</param>
/// <param name="MartensiteStart">By every formula.</param>
/// <param name="RetainedAustenite">After the quench and cold steps.</param>
/// <param name="Quenched">Hardness after the quench, or null.</param>
/// <param name="TemperedHrc">Hardness after the tempers, HRC; null untempered or where no law and no published curve holds.</param>
/// <param name="Tempering">The tempers as one number, or null.</param>
/// <param name="Temper">What the tempers add, with error and source.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record HardeningForecastResult(
    SoakedState Soaked, MartensiteStartResult MartensiteStart, RetainedAustenite RetainedAustenite, QuenchedHardnessResult? Quenched, double? TemperedHrc,
    TemperEquivalence? Tempering, TemperShift Temper, IReadOnlyList<string> Notes);
