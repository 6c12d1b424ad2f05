using System.Globalization;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Grades;
using Meltwise.Metallurgy.Sources;

namespace Meltwise.Metallurgy.Tempering;

/// <summary>Published hardness of a standard grade after tempers: the secondary-hardening curve where a table of it was found.</summary>
/// <remarks>
/// <para><b>Method.</b> A table of hardness against temper temperature, for one number and length of tempers and one or more hardening temperatures. Each temperature
/// becomes a tempering parameter (<see cref="TemperingParameter"/>, the table's own tempers added up), and so do the tempers asked for; hardness is a straight line
/// between neighbouring parameters, and between neighbouring hardening temperatures.</para>
/// <para><b>Assumptions.</b> Time trades for temperature by the parameter, near the peak too; the table's two tempers turned the retained austenite.</para>
/// <para><b>Range.</b> From the first to the last parameter of the table; hardening temperatures of the table and <see cref="HardeningToleranceC"/> beyond, where the value of
/// the end is taken. Steels inside the limits of the grade, drawn out by 8 % of each limit. No scaling by dissolved Mo, W or V: no published relation with coefficients was found.</para>
/// <para><b>Outside.</b> No curve, or null.</para>
/// <para><b>Source.</b> By curve, in <c>temper-curves.json</c>; M2, A2 and H13 were read, D2 is from memory but for two points.</para>
/// </remarks>
public sealed class PublishedTemperCurve
{
    /// <summary>How far from the hardening temperatures of its table a curve is still used, °C.</summary>
    public const double HardeningToleranceC = 20;

    private const double LimitSlack = 0.08;

    private readonly double[] _hardeningC, _parameters, _errors;
    private readonly double[][] _hrc;
    private readonly IReadOnlyList<ElementLimits> _limits;

    private PublishedTemperCurve(CurveRow row)
    {
        (Grade, Source, Status) = (row.Grade, new(row.Source, row.Status), row.Status);
        foreach ((string element, double massPercent) in row.Composition) Nominal = With(Nominal, Enum.Parse<AlloyElement>(element), massPercent);
        _limits = GradeCatalogue.Find(row.CatalogueGrade).Limits;
        _hardeningC = row.HardeningC;
        _parameters = [.. row.Points.Select(p => TemperingParameter.Of([.. Enumerable.Repeat(new Temper(p.TemperC, row.Hours), row.Tempers)]).Parameter)];
        _hrc = [.. row.Points.Select(p => p.Hrc)];
        _errors = [.. row.Points.Select(p => p.ErrorHrc)];
        Range = string.Create(CultureInfo.InvariantCulture,
            $"hardened from {_hardeningC[0] - HardeningToleranceC:0} to {_hardeningC[^1] + HardeningToleranceC:0} °C, tempers equal to {row.Tempers} of {row.Hours:0.#} h at {row.Points[0].TemperC:0} to {row.Points[^1].TemperC:0} °C");
    }

    /// <summary>All curves; of two for one grade the first whose hardening temperatures fit is taken.</summary>
    public static IReadOnlyList<PublishedTemperCurve> All { get; } = [.. ShippedTable.Read<CurveFile>("Tempering.temper-curves.json").Curves.Select(r => new PublishedTemperCurve(r))];

    /// <summary>Standard designation.</summary>
    public string Grade { get; }

    /// <summary>Composition of the table, mass percent.</summary>
    public AlloyContent Nominal { get; }

    /// <summary>Where the table is from.</summary>
    public Source Source { get; }

    /// <summary>How far it was checked.</summary>
    public SourceStatus Status { get; }

    /// <summary>What the table covers, in words.</summary>
    public string Range { get; }

    /// <summary>The curve of a steel hardened at a temperature, or null when no curve fits.</summary>
    /// <param name="steel">Composition, mass percent; manganese and silicon that are not given count as the grade's.</param>
    /// <param name="hardeningC">Hardening temperature, °C.</param>
    public static PublishedTemperCurve? For(AlloyContent steel, double hardeningC) =>
        All.Where(c => c.Holds(steel)).OrderBy(c => c.HardeningDistanceC(hardeningC)).FirstOrDefault(c => c.HardeningDistanceC(hardeningC) <= HardeningToleranceC);

    /// <summary>Hardness of the table's steel after these tempers, or null beyond the table.</summary>
    /// <param name="hardeningC">Hardening temperature, °C.</param>
    /// <param name="tempers">Tempers in order.</param>
    public TemperedReading? At(double hardeningC, IReadOnlyList<Temper> tempers)
    {
        ArgumentNullException.ThrowIfNull(tempers);
        if (tempers.Count == 0 || HardeningDistanceC(hardeningC) > HardeningToleranceC) return null;
        double parameter = TemperingParameter.Of(tempers).Parameter;
        if (parameter < _parameters[0] - 1e-6 || parameter > _parameters[^1] + 1e-6) return null;
        (int i, double f) = Between(_parameters, parameter);
        (int j, double g) = Between(_hardeningC, hardeningC);
        return new(Line(Line(_hrc[i][j], Next(_hrc[i], j), g), Line(_hrc[Math.Min(i + 1, _hrc.Length - 1)][j], Next(_hrc[Math.Min(i + 1, _hrc.Length - 1)], j), g), f), Line(_errors[i], Next(_errors, i), f));
    }

    private bool Holds(AlloyContent steel)
    {
        foreach (AlloyElement element in AlloyContent.Elements)
        {
            ElementLimits limits = _limits.FirstOrDefault(l => l.Element == element, new(element, 0, GradeConformity.UnlistedHighest));
            bool notGiven = element is AlloyElement.Mn or AlloyElement.Si && steel[element] == 0;
            if (!notGiven && (steel[element] < limits.Lowest * (1 - LimitSlack) || steel[element] > limits.Highest * (1 + LimitSlack))) return false;
        }
        return true;
    }

    private double HardeningDistanceC(double hardeningC) => Math.Max(0, Math.Max(_hardeningC[0] - hardeningC, hardeningC - _hardeningC[^1]));

    private static (int Below, double Share) Between(double[] knots, double x)
    {
        int i = 0;
        while (i < knots.Length - 2 && x > knots[i + 1]) i++;
        return knots.Length == 1 ? (0, 0) : (i, Math.Clamp((x - knots[i]) / (knots[i + 1] - knots[i]), 0, 1));
    }

    private static double Next(double[] values, int i) => values[Math.Min(i + 1, values.Length - 1)];

    private static double Line(double a, double b, double share) => a + share * (b - a);

    private static AlloyContent With(AlloyContent steel, AlloyElement element, double massPercent)
    {
        steel[element] = massPercent;
        return steel;
    }

    private sealed record CurveFile(string Note, List<CurveRow> Curves);

    private sealed record CurveRow(
        string Grade, string CatalogueGrade, SourceStatus Status, string Source, Dictionary<string, double> Composition, int Tempers, double Hours, double[] HardeningC, List<CurvePoint> Points);

    private sealed record CurvePoint(double TemperC, double ErrorHrc, double[] Hrc);
}

/// <summary>What a published temper curve says.</summary>
/// <param name="Hrc">Hardness, HRC.</param>
/// <param name="ErrorHrc">How far published tables of the grade disagree there, HRC, one standard deviation.</param>
public readonly record struct TemperedReading(double Hrc, double ErrorHrc);
