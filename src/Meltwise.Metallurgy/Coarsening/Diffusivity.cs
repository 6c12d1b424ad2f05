using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Coarsening;

/// <summary>Diffusion of alloying elements in austenite.</summary>
/// <remarks>
/// <para><b>Formula.</b> D = D0 exp(-Q / (R T)) by element; carbon by Ågren with its dependence on its own content.</para>
/// <para><b>Assumption.</b> Tracer values of dilute austenite; cross effects between elements are left out.</para>
/// <para><b>Range.</b> 700 to 1300 °C. Each value is known to a factor of about two: alternatives from other papers are in the table.</para>
/// <para><b>Outside.</b> Refused.</para>
/// <para><b>Source.</b> By element, in the shipped table; carbon: Ågren, Scripta Metall. 20 (1986) 1507, from memory.</para>
/// </remarks>
public static class Diffusivity
{
    /// <summary>Gas constant, J/(mol K).</summary>
    public const double GasConstant = 8.314462618;

    private const double LowestK = 973.15, HighestK = 1573.15;
    private static readonly DiffusionFile s_file = ShippedTable.Read<DiffusionFile>("Coarsening.diffusivities.json");

    /// <summary>All published values, the recommended one of each element marked.</summary>
    public static IReadOnlyList<PublishedDiffusivity> All { get; } = [.. s_file.Rows.Select(r =>
        new PublishedDiffusivity(r.Element, r.Recommended, r.PrefactorM2S, r.ActivationJMol, new(r.Source, r.Status)))];

    /// <summary>Recommended diffusivity of a substitutional element or of nitrogen, m²/s.</summary>
    /// <param name="symbol">Element symbol, <c>Fe</c> included.</param>
    /// <param name="temperatureK">Temperature, K.</param>
    /// <exception cref="OutsideModelRangeException">Temperature outside 700 to 1300 °C.</exception>
    /// <exception cref="ArgumentException">No value for the element.</exception>
    public static double Of(string symbol, double temperatureK) => Recommended(symbol).At(InRange(temperatureK));

    /// <summary>The recommended published value of an element.</summary>
    public static PublishedDiffusivity Recommended(string symbol) => All.FirstOrDefault(d => d.Recommended && d.Symbol == symbol)
        ?? throw new ArgumentException($"No diffusivity in austenite is tabulated for {symbol}. Tabulated: {string.Join(", ", All.Select(d => d.Symbol).Distinct())}.", nameof(symbol));

    /// <summary>Diffusivity of carbon in austenite, m²/s.</summary>
    /// <param name="carbonSiteFraction">Carbon atoms per metal atom, y = x / (1 - x).</param>
    /// <param name="temperatureK">Temperature, K.</param>
    /// <exception cref="OutsideModelRangeException">Temperature outside 700 to 1300 °C.</exception>
    public static double OfCarbon(double carbonSiteFraction, double temperatureK)
    {
        double t = InRange(temperatureK), y = carbonSiteFraction;
        return 4.53e-7 * (1 + y * (1 - y) * 8339.9 / t) * Math.Exp(-(1 / t - 2.221e-4) * (17767 - 26436 * y));
    }

    private static double InRange(double temperatureK) => temperatureK is >= LowestK and <= HighestK
        ? temperatureK
        : throw new OutsideModelRangeException("Diffusion in austenite", "temperature", temperatureK - 273.15, LowestK - 273.15, HighestK - 273.15, "°C");

    private sealed record DiffusionFile(string Unit, string Licence, List<DiffusionRow> Rows);

    private sealed record DiffusionRow(string Element, bool Recommended, double PrefactorM2S, double ActivationJMol, string Source, SourceStatus Status);
}

/// <summary>One published diffusivity.</summary>
/// <param name="Symbol">Element.</param>
/// <param name="Recommended">Whether this is the one used.</param>
/// <param name="PrefactorM2S">D0, m²/s.</param>
/// <param name="ActivationJMol">Q, J/mol.</param>
/// <param name="Source">Paper.</param>
public sealed record PublishedDiffusivity(string Symbol, bool Recommended, double PrefactorM2S, double ActivationJMol, Source Source)
{
    /// <summary>Value at a temperature, m²/s.</summary>
    public double At(double temperatureK) => PrefactorM2S * Math.Exp(-ActivationJMol / (Diffusivity.GasConstant * temperatureK));
}
