using MathNet.Numerics.Distributions;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>Random numbers of one draw: a stream of its own for each draw number, so that results do not depend on which thread takes which draw.</summary>
/// <remarks>
/// <para><b>Method.</b> SplitMix64, started from a hash of seed and draw number; uniform on the open interval (0, 1) from the upper 53 bits; normal by the
/// inverse distribution function.</para>
/// <para><b>Source.</b> Steele, Lea and Flood, Fast Splittable Pseudorandom Number Generators, OOPSLA (2014).</para>
/// </remarks>
internal struct DrawStream(ulong seed, int draw)
{
    private ulong _state = Mix(seed + 0x9E3779B97F4A7C15 * (ulong)(draw + 1));

    /// <summary>Uniform, above 0 and below 1.</summary>
    public double NextUniform()
    {
        _state += 0x9E3779B97F4A7C15;
        return ((Mix(_state) >> 11) + 0.5) * (1.0 / (1UL << 53));
    }

    /// <summary>Standard normal.</summary>
    public double NextNormal() => Normal.InvCDF(0, 1, NextUniform());

    private static ulong Mix(ulong z)
    {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}
