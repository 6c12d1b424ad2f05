using System.Collections;
using System.Diagnostics.CodeAnalysis;
using System.Globalization;

namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>A value for each of a few elements, by symbol: mass percent, mole fraction or J/mol as the owner says.</summary>
[SuppressMessage("Naming", "CA1710", Justification = "The trade speaks of amounts of elements, not of dictionaries.")]
public sealed class ElementAmounts : IReadOnlyDictionary<string, double>
{
    private readonly IReadOnlyList<string> _elements;
    private readonly double[] _values;

    internal ElementAmounts(IReadOnlyList<string> elements, double[] values)
    {
        _elements = elements;
        _values = values;
    }

    /// <summary>Value of an element; 0 for one that is not there.</summary>
    public double this[string key] => TryGetValue(key, out double value) ? value : 0;

    /// <inheritdoc/>
    public IEnumerable<string> Keys => _elements;

    /// <inheritdoc/>
    public IEnumerable<double> Values => _values;

    /// <inheritdoc/>
    public int Count => _values.Length;

    /// <inheritdoc/>
    public bool ContainsKey(string key) => TryGetValue(key, out _);

    /// <inheritdoc/>
    public bool TryGetValue(string key, [MaybeNullWhen(false)] out double value)
    {
        for (int e = 0; e < _values.Length; e++)
            if (_elements[e] == key)
            {
                value = _values[e];
                return true;
            }
        value = 0;
        return false;
    }

    /// <inheritdoc/>
    public IEnumerator<KeyValuePair<string, double>> GetEnumerator()
    {
        for (int e = 0; e < _values.Length; e++) yield return new(_elements[e], _values[e]);
    }

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();

    /// <summary>Element and value, in order, to four significant figures.</summary>
    public override string ToString() => string.Join(", ", this.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.Key} {p.Value:G4}")));
}
