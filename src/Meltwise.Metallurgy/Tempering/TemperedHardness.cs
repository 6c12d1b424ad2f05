using System.Globalization;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Tempering;

/// <summary>Where on the tempering curve a coupon ends, and what that allows the chain to say.</summary>
public enum TemperRegion
{
    /// <summary>Not tempered.</summary>
    Untempered,
    /// <summary>100 to 260 °C: stress relief; retained austenite stays.</summary>
    Low,
    /// <summary>260 to 450 °C: embrittlement and the hardness trough; no value is given.</summary>
    Trough,
    /// <summary>450 °C and above: secondary hardening; a value only by a temper curve.</summary>
    High,
}

/// <summary>How far low tempering lowers the as-quenched hardness, and what is refused above.</summary>
/// <remarks>
/// <para><b>Formula.</b> Low tempers: loss = s (T2 - 100 °C), T2 the temperature of the equivalent two-hour temper, s = 0.025 HRC per °C: each 50 °C
/// costs 1 to 1.5 HRC. The same loss applies to two heats of one load, so it cancels in their difference.</para>
/// <para><b>Range.</b> Equivalent two-hour tempers of 100 to 260 °C, hardened tool steels.</para>
/// <para><b>Outside.</b> No absolute value: in the trough and on the secondary-hardening curve hardness is set by alloy carbides that form during
/// the temper, for which no general published law exists. A published temper curve of the grade (<see cref="PublishedTemperCurve"/>) or the bench's own takes its place.</para>
/// <para><b>Source.</b> Handbook slope, from memory.</para>
/// </remarks>
public static class TemperedHardness
{
    /// <summary>HRC lost for one °C of the equivalent two-hour temper.</summary>
    public const double LossHrcPerC = 0.025;

    /// <summary>Standard uncertainty of <see cref="LossHrcPerC"/>: 1 to 1.5 HRC in 50 °C taken as two standard deviations.</summary>
    public const double LossHrcPerCSd = 0.0025;

    /// <summary>Source of the slope.</summary>
    public static Source Source { get; } = new("Each 50 °C of low temper costs 1 to 1.5 HRC, tool-steel handbooks", SourceStatus.FromMemory);

    /// <summary>The region of a list of tempers.</summary>
    public static TemperRegion Region(IReadOnlyList<Temper> tempers)
    {
        ArgumentNullException.ThrowIfNull(tempers);
        return tempers.Count == 0 ? TemperRegion.Untempered : TemperatureOfTwoHours(tempers) switch
        {
            <= 260 => TemperRegion.Low,
            < 450 => TemperRegion.Trough,
            _ => TemperRegion.High,
        };
    }

    /// <summary>HRC lost, or null where no law is given (trough and high tempers); 0 untempered.</summary>
    public static double? LossHrc(IReadOnlyList<Temper> tempers) => Region(tempers) switch
    {
        TemperRegion.Untempered => 0,
        TemperRegion.Low => Math.Max(0, LossHrcPerC * (TemperatureOfTwoHours(tempers) - 100)),
        _ => null,
    };

    /// <summary>What the region means for a reader.</summary>
    public static string Note(IReadOnlyList<Temper> tempers) => Region(tempers) switch
    {
        TemperRegion.Untempered => "Untempered hardness. A coupon must not be used or struck untempered.",
        TemperRegion.Low => string.Create(CultureInfo.InvariantCulture, $"Low temper: {LossHrc(tempers):0.0} HRC below as quenched (from memory, 1 to 1.5 HRC for each 50 °C); retained austenite taken as unchanged."),
        TemperRegion.Trough => "Temper between 260 and 450 °C: no law for hardness is given there; differences are those before tempering.",
        _ => "High temper: no law for secondary hardening is given; without a published or an own temper curve, differences are those before secondary hardening.",
    };

    private static double TemperatureOfTwoHours(IReadOnlyList<Temper> tempers) => TemperingParameter.Of(tempers).TemperatureFor(2);
}
