using Meltwise.Metallurgy.Composition;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>Volume fraction of each undissolved carbide.</summary>
public struct CarbideVolumes : IEquatable<CarbideVolumes>
{
    private SixNumbers _fraction;

    /// <summary>How many kinds there are.</summary>
    public const int KindCount = 6;

    /// <summary>Volume fraction of one kind, 0 to 1.</summary>
    public double this[CarbideKind kind]
    {
        readonly get => _fraction[(int)kind];
        set => _fraction[(int)kind] = value;
    }

    /// <summary>All kinds together, 0 to 1.</summary>
    public readonly double Total
    {
        get
        {
            double sum = 0;
            for (int i = 0; i < KindCount; i++) sum += _fraction[i];
            return sum;
        }
    }

    /// <inheritdoc/>
    public readonly bool Equals(CarbideVolumes other)
    {
        for (int i = 0; i < KindCount; i++)
            if (!_fraction[i].Equals(other._fraction[i])) return false;
        return true;
    }

    /// <inheritdoc/>
    public override readonly bool Equals(object? obj) => obj is CarbideVolumes other && Equals(other);

    /// <inheritdoc/>
    public override readonly int GetHashCode() => Total.GetHashCode();

    /// <summary>Equal to the bit.</summary>
    public static bool operator ==(CarbideVolumes a, CarbideVolumes b) => a.Equals(b);

    /// <summary>Not equal.</summary>
    public static bool operator !=(CarbideVolumes a, CarbideVolumes b) => !a.Equals(b);

    [System.Runtime.CompilerServices.InlineArray(KindCount)]
    private struct SixNumbers
    {
        private double _first;
    }
}

/// <summary>What the steel is at the end of the soak.</summary>
/// <param name="Austenite">Mass percent in the austenite.</param>
/// <param name="Carbides">Undissolved carbide.</param>
/// <param name="FerriteVolumeFraction">Ferrite, 0 to 1; more than nothing is a warning.</param>
public readonly record struct SoakedState(AlloyContent Austenite, CarbideVolumes Carbides, double FerriteVolumeFraction);

/// <summary>Answers what a soak leaves in solution. Used from one thread at a time.</summary>
public interface ISoak
{
    /// <summary>State of a steel near the one this was made for, holding no element that it does not hold.</summary>
    SoakedState Of(AlloyContent steel);
}

/// <summary>Makes soaks: the assumption about what the soak reaches, such as equilibrium.</summary>
public interface ISoakAssumption
{
    /// <summary>The assumption in words, for the notes of a result.</summary>
    string Words { get; }

    /// <summary>A soak at a temperature, quick for steels near <paramref name="steel"/>; its answers depend on nothing else, so that results do not depend on the number of threads.</summary>
    ISoak Near(AlloyContent steel, double temperatureK);

    /// <summary>Known weaknesses that touch this steel at this temperature, in words; empty when there are none.</summary>
    IReadOnlyList<string> WarningsFor(AlloyContent steel, double temperatureK);
}
