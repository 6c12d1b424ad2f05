using System.Globalization;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Sources;
using Meltwise.Metallurgy.Tempering;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>What the tempers add to the chain's hardness before tempering, the same for two heats of one load: by the low-temper slope, or by a published temper curve of the grade.</summary>
/// <remarks>
/// <para><b>Low tempers.</b> Minus the loss of <see cref="TemperedHardness"/>.</para>
/// <para><b>Above 260 °C.</b> Where a <see cref="PublishedTemperCurve"/> holds every steel: hardness of the curve less the chain's own answer for the curve's composition, so that the
/// curve's steel gets the curve's hardness, and another steel differs from it by what the chain computes before secondary hardening.</para>
/// <para><b>Assumptions.</b> A difference of chemistry moves tempered hardness by what it moves martensite: the height of the peak is not scaled by dissolved Mo, W or V.</para>
/// <para><b>Outside.</b> Without a curve the shift is zero and the hardness is that before secondary hardening; the notes say so.</para>
/// </remarks>
public sealed record TemperShift
{
    /// <summary>Where on the temper curve the coupons end.</summary>
    public required TemperRegion Region { get; init; }

    /// <summary>Added to hardness before tempering, HRC.</summary>
    public required double Hrc { get; init; }

    /// <summary>Error of the shift, HRC, one standard deviation; 0 untempered.</summary>
    public required double ErrorHrc { get; init; }

    /// <summary>The published curve used, or null.</summary>
    public PublishedTemperCurve? Curve { get; init; }

    /// <summary>What the chain's hardness is after this: <c>as quenched</c>, <c>after low tempers</c>, <c>tempered, by the published curve of M2</c> or <c>before secondary hardening</c>.</summary>
    public required string Meaning { get; init; }

    /// <summary>What a reader must know; never empty.</summary>
    public required IReadOnlyList<string> Notes { get; init; }

    /// <summary>Where the shift is from; empty untempered.</summary>
    public required IReadOnlyList<Source> Sources { get; init; }

    /// <summary>Whether the hardness is that after the tempers.</summary>
    public bool IsTempered => Region == TemperRegion.Low || Curve is not null;

    /// <summary>The shift of a treatment.</summary>
    /// <param name="treatment">Hardening and tempers.</param>
    /// <param name="steels">The steels that had it; one curve must hold them all.</param>
    /// <param name="soak">What the soak reaches.</param>
    public static TemperShift Of(HardeningTreatment treatment, IReadOnlyList<AlloyContent> steels, ISoakAssumption soak)
    {
        ArgumentNullException.ThrowIfNull(treatment);
        ArgumentNullException.ThrowIfNull(steels);
        ArgumentNullException.ThrowIfNull(soak);
        TemperRegion region = TemperedHardness.Region(treatment.Tempers);
        if (region is TemperRegion.Untempered or TemperRegion.Low)
        {
            bool low = region == TemperRegion.Low;
            double loss = TemperedHardness.LossHrc(treatment.Tempers) ?? 0;
            return new()
            {
                Region = region,
                Hrc = -loss,
                ErrorHrc = loss * TemperedHardness.LossHrcPerCSd / TemperedHardness.LossHrcPerC,
                Meaning = low ? "after low tempers" : "as quenched",
                Notes = [TemperedHardness.Note(treatment.Tempers)],
                Sources = low ? [TemperedHardness.Source] : [],
            };
        }
        return ByCurve(treatment, region, steels, soak) ?? new()
        {
            Region = region,
            Hrc = 0,
            ErrorHrc = 0,
            Meaning = "before secondary hardening",
            Notes = [TemperedHardness.Note(treatment.Tempers), NoCurve(), .. Austenite(treatment.Tempers, region)],
            Sources = [],
        };
    }

    private static TemperShift? ByCurve(HardeningTreatment treatment, TemperRegion region, IReadOnlyList<AlloyContent> steels, ISoakAssumption soak)
    {
        PublishedTemperCurve?[] curves = [.. steels.Select(s => PublishedTemperCurve.For(s, treatment.HardeningTemperatureC)).Distinct()];
        if (curves is not [{ } curve] || curve.At(treatment.HardeningTemperatureC, treatment.Tempers) is not { } reading) return null;
        double computed = new HardnessChain(treatment, 0).Of(soak.Near(curve.Nominal, treatment.HardeningTemperatureK).Of(curve.Nominal), ChainErrors.None).HardnessHrc;
        if (double.IsNaN(computed)) return null;
        return new()
        {
            Region = region,
            Hrc = reading.Hrc - computed,
            ErrorHrc = reading.ErrorHrc,
            Curve = curve,
            Meaning = $"tempered, by the published curve of {curve.Grade}",
            Notes =
            [
                string.Create(CultureInfo.InvariantCulture,
                    $"Tempered hardness by the published curve of {curve.Grade}: {reading.Hrc:0.0} ± {reading.ErrorHrc:0.0} HRC (1 sigma) for {curve.Nominal} after these tempers, equal P; the steel's own chemistry moves it by what the chain computes without secondary hardening. The curve covers {curve.Range}."),
                "The height of the secondary peak is not scaled by dissolved Mo, W or V: no published relation with its coefficients was found.",
                .. Austenite(treatment.Tempers, region),
            ],
            Sources = [curve.Source],
        };
    }

    private static IEnumerable<string> Austenite(IReadOnlyList<Temper> tempers, TemperRegion region)
    {
        if (region != TemperRegion.High) yield break;
        yield return tempers.Count(t => t.TemperatureC >= 450) >= 2
            ? "Retained austenite is taken as turned by the high tempers (common practice: two for cold-work, three for high-speed steels; some per cent may stay)."
            : "One high temper: austenite that turned on cooling from it is untempered martensite, and some may not have turned. Temper again; the hardness given is that after it.";
    }

    private static string NoCurve() =>
        $"No published temper curve fits these steels, their hardening temperature and these tempers (curves are held of {string.Join(", ", PublishedTemperCurve.All.Select(c => c.Grade).Distinct())}): no hardness after tempering is given.";
}
