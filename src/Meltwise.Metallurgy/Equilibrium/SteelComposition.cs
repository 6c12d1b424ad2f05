using System.Globalization;

namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>The overall composition of a steel, in mass percent; iron is the balance.</summary>
/// <remarks>Elements that were measured but have no thermodynamic parameters (P, S, Cu, Al, O ...) are kept and listed in <see cref="LeftOut"/>; they count
/// in the balance and are then left out of the calculation.</remarks>
public sealed class SteelComposition
{
    /// <summary>Below this content, mass percent, an element counts as absent.</summary>
    public const double AbsentBelowMassPercent = 1e-7;

    private static readonly string[] s_symbols =
        ("H He Li Be B C N O F Ne Na Mg Al Si P S Cl Ar K Ca Sc Ti V Cr Mn Fe Co Ni Cu Zn Ga Ge As Se Br Kr Rb Sr Y Zr Nb Mo Tc Ru Rh Pd Ag Cd In Sn Sb Te I "
        + "Xe Cs Ba La Ce Pr Nd Sm Eu Gd Tb Dy Ho Er Tm Yb Lu Hf Ta W Re Os Ir Pt Au Hg Tl Pb Bi").Split(' ');

    private SteelComposition(ElementAmounts massPercent)
    {
        MassPercent = massPercent;
        ParameterSet set = ParameterSet.ToolSteel;
        Modelled = [.. set.Elements.Select(e => e.Symbol).Where(e => massPercent[e] > AbsentBelowMassPercent)];
        LeftOut = [.. massPercent.Where(p => p.Value > 0 && !set.Holds(p.Key)).Select(p => p.Key)];
    }

    /// <summary>Mass percent of every element given, and of iron.</summary>
    public ElementAmounts MassPercent { get; }

    /// <summary>Elements that take part in the calculation, iron first.</summary>
    public IReadOnlyList<string> Modelled { get; }

    /// <summary>Elements that were given but that the parameter set does not hold.</summary>
    public IReadOnlyList<string> LeftOut { get; }

    /// <summary>Mass percent of an element, 0 when it was not given.</summary>
    public double this[string element] => MassPercent[element];

    /// <summary>From element symbols and mass percents.</summary>
    /// <param name="massPercent">Each element once. Iron may be given and must then agree with the balance within 0.5.</param>
    /// <exception cref="SteelCompositionException">An unknown element, one given twice, a negative or non-finite content, or a sum above 100.</exception>
    public static SteelComposition FromMassPercent(IEnumerable<KeyValuePair<string, double>> massPercent)
    {
        ArgumentNullException.ThrowIfNull(massPercent);
        List<string> elements = ["Fe"];
        List<double> values = [double.NaN];
        double sum = 0;
        foreach ((string element, double value) in massPercent)
        {
            Require(element, value);
            if (element == "Fe" ? !double.IsNaN(values[0]) : elements.Contains(element))
                throw new SteelCompositionException(element, "two contents", "each element once");
            if (element == "Fe")
            {
                values[0] = value;
                continue;
            }
            elements.Add(element);
            values.Add(value);
            sum += value;
        }

        if (sum >= 100) throw new SteelCompositionException("sum without Fe", Text(sum), "less than 100 mass percent, since iron is the balance");
        if (!double.IsNaN(values[0]) && Math.Abs(values[0] + sum - 100) > 0.5)
            throw new SteelCompositionException("Fe", Text(values[0]), $"the balance, {Text(100 - sum)} mass percent; leave Fe out or correct the others");
        values[0] = 100 - sum;
        return new SteelComposition(new ElementAmounts(elements, [.. values]));
    }

    /// <summary>Reads a list such as <c>C 1.55, Cr 11.8, Mo 0.8</c>: symbol and mass percent, separated by commas or semicolons, decimal point.</summary>
    /// <exception cref="SteelCompositionException">As <see cref="FromMassPercent"/>, or an entry that is not a symbol and a number.</exception>
    public static SteelComposition Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        List<KeyValuePair<string, double>> entries = [];
        foreach (string entry in text.Split([',', ';', '\n'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            string[] parts = entry.Split([' ', '=', ':', '\t'], StringSplitOptions.RemoveEmptyEntries);
            if (parts.Length == 3 && parts[2] is "%" or "wt%") parts = parts[..2];
            if (parts.Length != 2 || !double.TryParse(parts[1].TrimEnd('%'), NumberStyles.Float, CultureInfo.InvariantCulture, out double value))
                throw new SteelCompositionException(entry, "an entry that cannot be read", "an element symbol and a mass percent, as in C 1.55, with a decimal point");
            entries.Add(new(parts[0], value));
        }
        if (entries.Count == 0) throw new SteelCompositionException("composition", "nothing", "at least one element, as in C 1.55, Cr 11.8");
        return FromMassPercent(entries);
    }

    /// <summary>The same steel with one content changed and iron as the balance.</summary>
    public SteelComposition With(string element, double massPercent) =>
        FromMassPercent([.. MassPercent.Where(p => p.Key != "Fe" && p.Key != element), new(element, massPercent)]);

    /// <summary>As a person writes it: <c>C 1.55, Cr 11.8, balance Fe</c>.</summary>
    public override string ToString() =>
        string.Join(", ", MassPercent.Where(p => p.Key != "Fe").Select(p => $"{p.Key} {p.Value.ToString("0.#####", CultureInfo.InvariantCulture)}").Append("balance Fe"));

    private static void Require(string element, double value)
    {
        if (Array.IndexOf(s_symbols, element) < 0)
            throw new SteelCompositionException(element ?? "(no symbol)", "no such element", "a chemical symbol, written as in Cr");
        if (!double.IsFinite(value) || value < 0)
            throw new SteelCompositionException(element, Text(value), "a content of 0 or more, in mass percent");
    }

    private static string Text(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);
}

/// <summary>A composition that cannot be one: says of which element, what was found and what was expected.</summary>
public sealed class SteelCompositionException(string element, string found, string expected)
    : ArgumentException($"{element}: found {found}; expected {expected}.")
{
    /// <summary>The element, or the entry as typed.</summary>
    public string Element { get; } = element;

    /// <summary>What was found.</summary>
    public string Found { get; } = found;

    /// <summary>What was expected.</summary>
    public string Expected { get; } = expected;
}
