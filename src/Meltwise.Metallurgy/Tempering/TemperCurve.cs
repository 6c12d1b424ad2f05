using System.Globalization;

namespace Meltwise.Metallurgy.Tempering;

/// <summary>One past coupon lot of the bench: how it was tempered and how hard it came out.</summary>
/// <param name="Name">Heat and treatment, so that a residual can be traced.</param>
/// <param name="Tempers">Tempers in order.</param>
/// <param name="Hrc">Measured hardness.</param>
public sealed record TemperedCase(string Name, IReadOnlyList<Temper> Tempers, double Hrc);

/// <summary>The bench's own temper curve of a grade and hardening: hardness against the tempering parameter, where no published law is given.</summary>
/// <remarks>
/// <para><b>Model.</b> HRC = a + b x + c x², x = (P - mean of P) / 1000, P by <see cref="TemperingParameter"/>; normal errors. Prior: a 58 ± 6 HRC, b 0 ± 4 and c 0 ± 4 HRC, scatter
/// 0.8 HRC worth two cases (our assumption: wide enough to be moved by three cases). Posterior by <see cref="ConjugateRegression"/>.</para>
/// <para><b>Assumptions.</b> One grade, one hardening temperature, one side of the trough: low tempers (to 260 °C) and high ones (from 450 °C) are never in one curve.</para>
/// <para><b>Range.</b> P within the past cases; beyond, a note says so. Three cases or more.</para>
/// <para><b>Source.</b> Hollomon and Jaffe (1945) for P; conjugate regression, Gelman and others (2013).</para>
/// </remarks>
public sealed class TemperCurve
{
    /// <summary>Fewest cases for a curve.</summary>
    public const int FewestCases = 3;

    private readonly ConjugateRegression _curve;
    private readonly double _centre, _lowest, _highest;
    private readonly TemperRegion _region;

    /// <summary>Learns the curve.</summary>
    /// <param name="cases">Past cases of one grade, hardening and region.</param>
    /// <exception cref="ArgumentException">Fewer than three cases, mixed regions, a case untempered or in the trough, or a hardness that is not a number.</exception>
    public TemperCurve(IReadOnlyList<TemperedCase> cases)
    {
        ArgumentNullException.ThrowIfNull(cases);
        _region = Require(cases);
        double[] p = [.. cases.Select(c => TemperingParameter.Of(c.Tempers).Parameter)];
        (_centre, _lowest, _highest) = (p.Average(), p.Min(), p.Max());
        _curve = new([.. p.Select(Row)], [.. cases.Select(c => c.Hrc)], [58, 0, 0], [6, 4, 4], 0.8, 2);
        Residuals = [.. cases.Select((c, i) => (c, c.Hrc - _curve.At(Row(p[i]))))];
    }

    /// <summary>Scatter about the curve, HRC, one standard deviation.</summary>
    public double ScatterHrc => _curve.Scatter;

    /// <summary>Every case with measured less curve, HRC.</summary>
    public IReadOnlyList<(TemperedCase Case, double ResidualHrc)> Residuals { get; }

    /// <summary>Hardness that a list of tempers should give, with the interval of a new case.</summary>
    /// <param name="tempers">Tempers in order, in the curve's region.</param>
    /// <param name="level">Probability of the interval.</param>
    /// <exception cref="ArgumentException">Tempers of another region.</exception>
    public CorrectedHardness Predict(IReadOnlyList<Temper> tempers, double level)
    {
        TemperRegion region = TemperedHardness.Region(tempers);
        if (region != _region)
            throw new ArgumentException($"The curve is of {Words(_region)} tempers; these are {Words(region)}. Low and high tempers are not on one curve.", nameof(tempers));
        double parameter = TemperingParameter.Of(tempers).Parameter;
        double hrc = _curve.At(Row(parameter)), half = _curve.HalfWidth(Row(parameter), level);
        List<string> notes = [string.Create(CultureInfo.InvariantCulture, $"From {Residuals.Count} own cases of {Words(_region)} tempers; scatter {ScatterHrc:0.0} HRC, 1 sigma.")];
        if (parameter < _lowest || parameter > _highest)
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"P = {parameter:0} lies beyond the past cases ({_lowest:0} to {_highest:0})."));
        return new(hrc, hrc - half, hrc + half, level, notes);
    }

    private double[] Row(double parameter)
    {
        double x = (parameter - _centre) / 1000;
        return [1, x, x * x];
    }

    private static TemperRegion Require(IReadOnlyList<TemperedCase> cases)
    {
        if (cases.Count < FewestCases)
            throw new ArgumentException($"A temper curve needs {FewestCases} cases or more; there are {cases.Count}.", nameof(cases));
        TemperRegion region = TemperedHardness.Region(cases[0].Tempers);
        foreach (TemperedCase c in cases)
        {
            if (!double.IsFinite(c.Hrc)) throw new ArgumentException(string.Create(CultureInfo.InvariantCulture, $"{c.Name}: hardness is {c.Hrc}."), nameof(cases));
            TemperRegion own = TemperedHardness.Region(c.Tempers);
            if (own is not (TemperRegion.Low or TemperRegion.High)) throw new ArgumentException($"{c.Name} is {Words(own)}: not on a temper curve.", nameof(cases));
            if (own != region) throw new ArgumentException($"{c.Name} is {Words(own)}, {cases[0].Name} {Words(region)}: not on one curve.", nameof(cases));
        }
        return region;
    }

    private static string Words(TemperRegion region) => region switch
    {
        TemperRegion.Untempered => "untempered",
        TemperRegion.Low => "low",
        TemperRegion.Trough => "between 260 and 450 °C",
        _ => "high",
    };
}
