using System.Globalization;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Transformation;

/// <summary>Austenite left after cooling below the martensite start, by Koistinen and Marburger.</summary>
/// <remarks>
/// <para><b>Formula.</b> f = exp(-k (Ms - Tq)) for Tq below Ms, else 1; k = 0.011 per °C; Tq is the coldest temperature reached in
/// one unbroken cooling. f is the share of the matrix: times (1 - carbide volume fraction) it is the share of the whole.</para>
/// <para><b>Assumptions.</b> No pause on the way down. Real steels stop earlier: austenite stabilises while a part waits at room
/// temperature, so the value after a cold step is what the cold step can do at best.</para>
/// <para><b>Range.</b> Made on plain carbon steels of 0.4 to 1.1 C. With the composition-dependent rate of van Bohemen the
/// fraction is a second opinion, meant for that author's own theoretical martensite temperature.</para>
/// <para><b>Source.</b> Koistinen and Marburger, Acta Metall. 7 (1959) 59; van Bohemen, Mater. Sci. Technol. 28 (2012) 487.</para>
/// </remarks>
public static class KoistinenMarburger
{
    /// <summary>Rate of the 1959 paper, per °C.</summary>
    public const double RatePerC = 0.011;

    /// <summary>The 1959 paper.</summary>
    public static Source Source { get; } = new("Koistinen and Marburger, Acta Metall. 7 (1959) 59", SourceStatus.Retrieved);

    /// <summary>Share of the matrix that stays austenite, 0 to 1. Allocates nothing.</summary>
    public static double AusteniteFraction(double martensiteStartC, double coldestC, double ratePerC = RatePerC) =>
        coldestC >= martensiteStartC ? 1 : Math.Exp(-ratePerC * (martensiteStartC - coldestC));

    /// <summary>Van Bohemen's rate for an austenite, per °C.</summary>
    public static double VanBohemenRatePerC(AlloyContent a) =>
        0.0272 - 0.00014 * a.Mn - 0.00021 * a.Si - 0.00011 * a.Cr - 0.00008 * a.Ni - 0.00005 * a.Mo - 0.0198 * (1 - Math.Exp(-1.56 * a.C));

    /// <summary>Austenite left after a quench and any cold steps.</summary>
    /// <param name="martensiteStart">Martensite start with its error bar.</param>
    /// <param name="temperaturesReachedC">Every temperature the coupon was cooled to before tempering, °C, in any order; the coldest counts.</param>
    /// <param name="carbideVolumeFraction">Undissolved carbide, 0 to 1, for the share of the whole.</param>
    /// <exception cref="ArgumentException">No temperature given, or one below absolute zero.</exception>
    public static RetainedAustenite After(MartensiteStartResult martensiteStart, IReadOnlyList<double> temperaturesReachedC, double carbideVolumeFraction)
    {
        ArgumentNullException.ThrowIfNull(martensiteStart);
        ArgumentNullException.ThrowIfNull(temperaturesReachedC);
        if (temperaturesReachedC.Count == 0)
            throw new ArgumentException("No cooling temperature was given. Give the temperature the coupon was quenched to, such as 20 °C.", nameof(temperaturesReachedC));
        double coldest = temperaturesReachedC.Min();
        if (!(coldest >= -273.15))
            throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"A cooling temperature is {coldest} °C; the lowest possible is -273.15 °C."), nameof(temperaturesReachedC));

        double ms = martensiteStart.CentralC, half = martensiteStart.HalfWidthC;
        return new(AusteniteFraction(ms, coldest), AusteniteFraction(ms - half, coldest), AusteniteFraction(ms + half, coldest),
            1 - carbideVolumeFraction, coldest, Notes(ms, coldest));
    }

    private static List<string> Notes(double ms, double coldest)
    {
        List<string> notes = ["Koistinen-Marburger with 0.011 per °C and the coldest temperature reached; the range comes from the error bar of the martensite start."];
        if (coldest < 0)
            notes.Add("A cold step counts as if there were no pause before it: the least austenite it can leave. Hours at room temperature before it leave more.");
        if (coldest >= ms)
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"The coldest temperature, {coldest:0} °C, is above the martensite start, {ms:0} °C: no martensite is predicted."));
        return notes;
    }
}

/// <summary>Retained austenite after cooling.</summary>
/// <param name="OfMatrix">Share of the matrix, 0 to 1.</param>
/// <param name="OfMatrixUpper">Upper end, with the martensite start at the low end of its bar.</param>
/// <param name="OfMatrixLower">Lower end, with the martensite start at the high end of its bar.</param>
/// <param name="MatrixShare">Volume share of the matrix in the whole: 1 less the undissolved carbide.</param>
/// <param name="ColdestC">Coldest temperature reached, °C.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record RetainedAustenite(
    double OfMatrix, double OfMatrixUpper, double OfMatrixLower, double MatrixShare, double ColdestC, IReadOnlyList<string> Notes)
{
    /// <summary>Share of the whole, carbides included, 0 to 1: what a diffraction measurement of the bulk reports.</summary>
    public double OfWhole => OfMatrix * MatrixShare;
}
