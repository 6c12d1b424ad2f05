namespace Meltwise.Domain;

/// <summary>Scale on which a property is compared. The property fixes it, never the data (verdict step 2).</summary>
public enum PropertyScale
{
    /// <summary>Logarithm: the estimand is a ratio of geometric means.</summary>
    Logarithmic,

    /// <summary>As is: the estimand is a difference of means.</summary>
    Linear,
}

/// <summary>Which way a property is good.</summary>
public enum GoodDirection
{
    /// <summary>Neither way is better: outcomes read higher or lower.</summary>
    None,

    /// <summary>More is better, as with impact energy.</summary>
    Higher,

    /// <summary>Less is better, as with wear loss.</summary>
    Lower,
}

/// <summary>A unit a property may be read in: value in the first unit = <paramref name="Factor"/> × value in this unit.</summary>
/// <param name="Name">The name shown: <c>ft·lbf</c>.</param>
/// <param name="Factor">Factor to the property's first unit.</param>
/// <param name="OtherSpellings">What people type for it, compared without case.</param>
public sealed record PropertyUnit(string Name, double Factor, params string[] OtherSpellings);

/// <summary>A property that coupons are tested for.</summary>
/// <param name="Name">Name in the trade, lower case: <c>impact energy</c>.</param>
/// <param name="Scale">Scale of comparison.</param>
/// <param name="Better">Good direction.</param>
/// <param name="Units">Units it may be read in; the first is the one it is stored and compared in by default.</param>
/// <param name="LowestBelievable">Values at or below this, in the first unit, are faults rather than readings.</param>
/// <param name="HighestBelievable">Values above this, in the first unit, are faults rather than readings.</param>
/// <param name="OtherNames">What people head the column with.</param>
public sealed record Property(
    string Name, PropertyScale Scale, GoodDirection Better, IReadOnlyList<PropertyUnit> Units,
    double LowestBelievable, double HighestBelievable, params string[] OtherNames)
{
    /// <summary>The unit it is stored in.</summary>
    public PropertyUnit StoredUnit => Units[0];

    /// <summary>The unit of that name or spelling, or null.</summary>
    public PropertyUnit? FindUnit(string text) => Units.FirstOrDefault(u => Matches(u.Name, text) || u.OtherSpellings.Any(s => Matches(s, text)));

    /// <summary>Converts between two of the property's units.</summary>
    /// <exception cref="ArgumentException">A unit is not one of this property's.</exception>
    public double Convert(double value, string from, string to)
    {
        PropertyUnit source = FindUnit(from) ?? throw Unknown(from, nameof(from));
        PropertyUnit target = FindUnit(to) ?? throw Unknown(to, nameof(to));
        return ReferenceEquals(source, target) ? value : value * source.Factor / target.Factor;
    }

    private ArgumentException Unknown(string unit, string parameter) =>
        new($"{Name} is not read in {unit}. Its units are {string.Join(", ", Units.Select(u => u.Name))}.", parameter);

    private static bool Matches(string a, string b) => string.Equals(a.Trim(), b.Trim(), StringComparison.OrdinalIgnoreCase);
}
