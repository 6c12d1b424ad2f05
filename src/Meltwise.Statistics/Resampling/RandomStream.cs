using System.Numerics;

namespace Meltwise.Statistics.Resampling;

/// <summary>A stream of random numbers that depends only on a seed and a stream number: work cut into numbered blocks gives the same result at any thread count.</summary>
/// <remarks><para><b>Method.</b> xoshiro256++, its state filled by SplitMix64 from seed and stream number; normals by the ratio-free
/// ziggurat with 256 layers; chi-squared by squeeze and rejection of a transformed normal.</para>
/// <para><b>Source.</b> [BlackmanVigna2021]; [MarsagliaTsang2000ziggurat]; [MarsagliaTsang2000gamma].</para></remarks>
public struct RandomStream
{
    private ulong _a, _b, _c, _d;

    /// <summary>Starts a stream.</summary>
    /// <param name="seed">Seed of the whole computation.</param>
    /// <param name="stream">Number of the block of work.</param>
    public RandomStream(long seed, long stream)
    {
        ulong state = Mix((ulong)seed + 0x9E3779B97F4A7C15) ^ Mix((ulong)stream * 0xD1342543DE82EF95 + 0x632BE59BD9B4E019);
        _a = Next(ref state);
        _b = Next(ref state);
        _c = Next(ref state);
        _d = Next(ref state);
    }

    /// <summary>64 random bits.</summary>
    public ulong Bits()
    {
        ulong result = BitOperations.RotateLeft(_a + _d, 23) + _a, t = _b << 17;
        _c ^= _a;
        _d ^= _b;
        _b ^= _c;
        _a ^= _d;
        _c ^= t;
        _d = BitOperations.RotateLeft(_d, 45);
        return result;
    }

    /// <summary>A number above 0 and below 1.</summary>
    public double Uniform() => ((Bits() >> 12) + 0.5) * (1.0 / (1L << 52));

    /// <summary>An index from 0 to n - 1; the bias of the multiplication method is below 2^-32·n.</summary>
    public int Index(int n) => (int)(((Bits() >> 32) * (ulong)n) >> 32);

    /// <summary>A standard normal number.</summary>
    public double Normal()
    {
        while (true)
        {
            ulong bits = Bits();
            int layer = (int)(bits & 255);
            double x = (long)bits / 256 * Ziggurat.Width[layer];
            if (Math.Abs(x) < Ziggurat.Edge[layer + 1]) return x;
            if (layer == 0) return Tail(bits >> 63 != 0);
            double low = Ziggurat.Height[layer], high = Ziggurat.Height[layer + 1];
            if (low + Uniform() * (high - low) < Math.Exp(-0.5 * x * x)) return x;
        }
    }

    /// <summary>A chi-squared number with ν ≥ 1 degrees of freedom.</summary>
    public double ChiSquared(double degreesOfFreedom)
    {
        if (degreesOfFreedom < 2)
        {
            // Γ(a) = Γ(a + 1)·U^(1/a) for a < 1.
            return ChiSquared(degreesOfFreedom + 2) * Math.Pow(Uniform(), 2 / degreesOfFreedom);
        }
        double d = degreesOfFreedom / 2 - 1.0 / 3, c = 1 / Math.Sqrt(9 * d);
        while (true)
        {
            double x = Normal(), v = 1 + c * x;
            if (v <= 0) continue;
            v = v * v * v;
            double u = Uniform(), square = x * x;
            if (u < 1 - 0.0331 * square * square || Math.Log(u) < 0.5 * square + d * (1 - v + Math.Log(v))) return 2 * d * v;
        }
    }

    private double Tail(bool negative)
    {
        double x, y;
        do
        {
            x = -Math.Log(Uniform()) / Ziggurat.Start;
            y = -Math.Log(Uniform());
        }
        while (y + y < x * x);
        return negative ? -(Ziggurat.Start + x) : Ziggurat.Start + x;
    }

    private static ulong Next(ref ulong state)
    {
        state += 0x9E3779B97F4A7C15;
        return Mix(state);
    }

    private static ulong Mix(ulong z)
    {
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }
}

/// <summary>Layers of equal area under the normal curve. The bottom layer reaches to <see cref="Start"/> and includes the tail.</summary>
internal static class Ziggurat
{
    /// <summary>Where the tail begins, for 256 layers.</summary>
    public const double Start = 3.6541528853610088;

    private const double Area = 4.92867323399e-3;

    /// <summary>Right edge of each layer, its width per unit of a 56-bit signed integer, and the curve at the edge.</summary>
    public static readonly double[] Edge = new double[257], Width = new double[256], Height = new double[257];

    static Ziggurat()
    {
        const double Unit = 1.0 / (1L << 55);
        Edge[0] = Area / Math.Exp(-0.5 * Start * Start);
        Edge[1] = Start;
        for (int i = 2; i < 256; i++)
            Edge[i] = Math.Sqrt(-2 * Math.Log(Area / Edge[i - 1] + Math.Exp(-0.5 * Edge[i - 1] * Edge[i - 1])));
        Edge[256] = 0;
        for (int i = 0; i <= 256; i++) Height[i] = Math.Exp(-0.5 * Edge[i] * Edge[i]);
        for (int i = 0; i < 256; i++) Width[i] = Edge[i] * Unit;
    }
}
