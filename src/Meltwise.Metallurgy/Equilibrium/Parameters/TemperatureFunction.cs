namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>A piecewise function of temperature: sum of coefficient times basis, plus multiples of other functions of the set.</summary>
/// <remarks>
/// <para><b>Basis.</b> 1, T, T ln T and integer powers of T, with T in kelvin; the form used by the SGTE pure-element data, [Dinsdale1991].</para>
/// <para><b>Range.</b> A segment holds for from &lt;= T &lt; to; beyond the table the nearest segment is extrapolated.</para>
/// </remarks>
/// <param name="Segments">In ascending temperature, at least one.</param>
internal sealed record TemperatureFunction(IReadOnlyList<TemperatureSegment> Segments)
{
    /// <summary>Value and temperature derivative, given the basis at that temperature and the functions referred to.</summary>
    internal (double Value, double Slope) At(TemperatureBasis basis, ReadOnlySpan<double> functions, ReadOnlySpan<double> functionSlopes)
    {
        TemperatureSegment segment = Segments[0];
        for (int i = 1; i < Segments.Count && basis.TemperatureK >= Segments[i].FromK; i++) segment = Segments[i];

        double value = 0, slope = 0;
        foreach (BasisTerm term in segment.Terms)
        {
            value += term.Coefficient * basis.Value(term.Basis);
            slope += term.Coefficient * basis.Slope(term.Basis);
        }
        foreach (FunctionTerm term in segment.Plus)
        {
            value += term.Multiplier * functions[term.Function];
            slope += term.Multiplier * functionSlopes[term.Function];
        }
        return (value, slope);
    }
}

/// <summary>One segment of a <see cref="TemperatureFunction"/>.</summary>
/// <param name="FromK">Lower end, kelvin.</param>
/// <param name="ToK">Upper end, kelvin; belongs to the next segment.</param>
/// <param name="Terms">Basis terms.</param>
/// <param name="Plus">Multiples of named functions, by index.</param>
internal sealed record TemperatureSegment(double FromK, double ToK, BasisTerm[] Terms, FunctionTerm[] Plus);

/// <summary>Coefficient of one basis function.</summary>
internal readonly record struct BasisTerm(int Basis, double Coefficient);

/// <summary>Multiple of a named function, by its index in the set.</summary>
internal readonly record struct FunctionTerm(int Function, double Multiplier);

/// <summary>The basis functions and their slopes at one temperature.</summary>
internal sealed class TemperatureBasis
{
    /// <summary>Names as the parameter file writes them; the index into this list is the basis number.</summary>
    internal static readonly string[] Names = ["1", "T", "TlnT", "T^2", "T^3", "T^4", "T^7", "T^-1", "T^-2", "T^-3", "T^-9"];
    private static readonly int[] s_powers = [0, 1, 1, 2, 3, 4, 7, -1, -2, -3, -9];

    private readonly double[] _values = new double[Names.Length];
    private readonly double[] _slopes = new double[Names.Length];

    /// <summary>Temperature the basis stands at, kelvin.</summary>
    internal double TemperatureK { get; private set; }

    /// <summary>Moves the basis to a temperature in kelvin, above zero.</summary>
    internal void MoveTo(double temperatureK)
    {
        TemperatureK = temperatureK;
        for (int i = 0; i < Names.Length; i++)
        {
            _values[i] = Math.Pow(temperatureK, s_powers[i]);
            _slopes[i] = s_powers[i] * Math.Pow(temperatureK, s_powers[i] - 1);
        }
        int tlnT = 2;
        _values[tlnT] = temperatureK * Math.Log(temperatureK);
        _slopes[tlnT] = Math.Log(temperatureK) + 1;
    }

    /// <summary>Value of basis function <paramref name="basis"/>.</summary>
    internal double Value(int basis) => _values[basis];

    /// <summary>Derivative of basis function <paramref name="basis"/> to temperature.</summary>
    internal double Slope(int basis) => _slopes[basis];
}
