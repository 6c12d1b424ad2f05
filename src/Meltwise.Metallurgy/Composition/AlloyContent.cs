using System.Globalization;
using System.Runtime.CompilerServices;

namespace Meltwise.Metallurgy.Composition;

/// <summary>Mass percent of each alloying element, of a steel as a whole or of one phase; iron is the balance. The default value is pure iron.</summary>
/// <remarks>A value type of eleven numbers, so that a hundred thousand compositions are pushed through the chain without allocation.</remarks>
public struct AlloyContent : IEquatable<AlloyContent>
{
    private ElevenNumbers _massPercent;

    /// <summary>How many elements there are.</summary>
    public const int ElementCount = 11;

    /// <summary>All elements, in the order of <see cref="AlloyElement"/>.</summary>
    public static IReadOnlyList<AlloyElement> Elements { get; } = Enum.GetValues<AlloyElement>();

    /// <summary>Mass percent of <paramref name="element"/>.</summary>
    public double this[AlloyElement element]
    {
        readonly get => _massPercent[(int)element];
        set => _massPercent[(int)element] = value;
    }

    /// <summary>Carbon, mass percent.</summary>
    public double C { readonly get => this[AlloyElement.C]; set => this[AlloyElement.C] = value; }
    /// <summary>Manganese, mass percent.</summary>
    public double Mn { readonly get => this[AlloyElement.Mn]; set => this[AlloyElement.Mn] = value; }
    /// <summary>Silicon, mass percent.</summary>
    public double Si { readonly get => this[AlloyElement.Si]; set => this[AlloyElement.Si] = value; }
    /// <summary>Chromium, mass percent.</summary>
    public double Cr { readonly get => this[AlloyElement.Cr]; set => this[AlloyElement.Cr] = value; }
    /// <summary>Nickel, mass percent.</summary>
    public double Ni { readonly get => this[AlloyElement.Ni]; set => this[AlloyElement.Ni] = value; }
    /// <summary>Molybdenum, mass percent.</summary>
    public double Mo { readonly get => this[AlloyElement.Mo]; set => this[AlloyElement.Mo] = value; }
    /// <summary>Vanadium, mass percent.</summary>
    public double V { readonly get => this[AlloyElement.V]; set => this[AlloyElement.V] = value; }
    /// <summary>Tungsten, mass percent.</summary>
    public double W { readonly get => this[AlloyElement.W]; set => this[AlloyElement.W] = value; }
    /// <summary>Cobalt, mass percent.</summary>
    public double Co { readonly get => this[AlloyElement.Co]; set => this[AlloyElement.Co] = value; }
    /// <summary>Niobium, mass percent.</summary>
    public double Nb { readonly get => this[AlloyElement.Nb]; set => this[AlloyElement.Nb] = value; }
    /// <summary>Nitrogen, mass percent.</summary>
    public double N { readonly get => this[AlloyElement.N]; set => this[AlloyElement.N] = value; }

    /// <summary>Iron by difference, mass percent.</summary>
    public readonly double Iron
    {
        get
        {
            double rest = 100;
            for (int i = 0; i < ElementCount; i++) rest -= _massPercent[i];
            return rest;
        }
    }

    /// <inheritdoc/>
    public readonly bool Equals(AlloyContent other)
    {
        for (int i = 0; i < ElementCount; i++)
            if (!_massPercent[i].Equals(other._massPercent[i])) return false;
        return true;
    }

    /// <inheritdoc/>
    public override readonly bool Equals(object? obj) => obj is AlloyContent other && Equals(other);

    /// <inheritdoc/>
    public override readonly int GetHashCode()
    {
        HashCode hash = default;
        for (int i = 0; i < ElementCount; i++) hash.Add(_massPercent[i]);
        return hash.ToHashCode();
    }

    /// <summary>Equal to the bit.</summary>
    public static bool operator ==(AlloyContent a, AlloyContent b) => a.Equals(b);

    /// <summary>Not equal.</summary>
    public static bool operator !=(AlloyContent a, AlloyContent b) => !a.Equals(b);

    /// <summary>Elements present, as a certificate lists them: <c>C 1.5, Cr 12</c>, in mass percent.</summary>
    public override readonly string ToString()
    {
        List<string> parts = [];
        foreach (AlloyElement e in Elements)
            if (this[e] != 0) parts.Add(string.Create(CultureInfo.InvariantCulture, $"{e} {this[e]:0.####}"));
        return parts.Count == 0 ? "Fe" : string.Join(", ", parts);
    }

    [InlineArray(ElementCount)]
    private struct ElevenNumbers
    {
        private double _first;
    }
}
