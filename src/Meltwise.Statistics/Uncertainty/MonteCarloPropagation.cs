using Meltwise.Statistics.Resampling;

namespace Meltwise.Statistics.Uncertainty;

/// <summary>How an input quantity is distributed.</summary>
public abstract record InputDistribution
{
    private InputDistribution() { }

    /// <summary>Normal.</summary>
    public sealed record Gaussian(double Mean, double StandardDeviation) : InputDistribution;

    /// <summary>Rectangular between two limits.</summary>
    public sealed record Rectangular(double Low, double High) : InputDistribution;

    /// <summary>Scaled and shifted t, for a mean of few readings.</summary>
    public sealed record ScaledT(double Mean, double Scale, double DegreesOfFreedom) : InputDistribution;

    /// <summary>Draws one value.</summary>
    public double Draw(ref RandomStream random) => this switch
    {
        Gaussian g => g.Mean + g.StandardDeviation * random.Normal(),
        Rectangular r => r.Low + (r.High - r.Low) * random.Uniform(),
        ScaledT t => t.Mean + t.Scale * random.Normal() / Math.Sqrt(random.ChiSquared(t.DegreesOfFreedom) / t.DegreesOfFreedom),
        _ => throw new InvalidOperationException("An input distribution of an unknown kind."),
    };
}

/// <summary>Propagation of distributions by Monte Carlo, where the model is not nearly linear.</summary>
/// <remarks><b>Method.</b> Draws in fixed blocks with streams of their own: one seed, one result, at any thread count. Interval: probabilistically symmetric, and shortest. <b>Source.</b> [JCGM101], 7.</remarks>
public static class MonteCarloPropagation
{
    private const int Block = 8192;

    /// <summary>Propagates.</summary>
    /// <param name="inputs">Distributions of the independent inputs.</param>
    /// <param name="model">The measurement model, inputs in order; must not keep the span.</param>
    /// <param name="draws">Number of draws.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="level">Coverage.</param>
    public static MonteCarloResult Propagate(IReadOnlyList<InputDistribution> inputs, MeasurementModel model, int draws, long seed, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(inputs);
        ArgumentNullException.ThrowIfNull(model);
        ArgumentOutOfRangeException.ThrowIfLessThan(draws, 1000);
        double[] values = new double[draws];
        Parallel.For(0, (draws + Block - 1) / Block, block =>
        {
            RandomStream random = new(seed, block);
            Span<double> x = new double[inputs.Count];
            int end = Math.Min(draws, (block + 1) * Block);
            for (int i = block * Block; i < end; i++)
            {
                for (int j = 0; j < x.Length; j++) x[j] = inputs[j].Draw(ref random);
                values[i] = model(x);
            }
        });
        double mean = values.Average(), u = Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (draws - 1));
        Array.Sort(values);
        int width = (int)Math.Round(level * draws), shortest = 0, middle = (draws - width) / 2;
        for (int i = 0; i + width < draws; i++)
            if (values[i + width] - values[i] < values[shortest + width] - values[shortest]) shortest = i;
        return new(mean, u, (values[middle], values[middle + width]), (values[shortest], values[shortest + width]), level, draws);
    }
}

/// <summary>A measurement model on a span of inputs.</summary>
public delegate double MeasurementModel(ReadOnlySpan<double> inputs);

/// <summary>Result of a Monte-Carlo propagation.</summary>
/// <param name="Mean">Mean.</param>
/// <param name="StandardUncertainty">Standard deviation of the draws.</param>
/// <param name="Symmetric">Interval with equal tails.</param>
/// <param name="Shortest">Shortest interval of the same coverage.</param>
/// <param name="Level">Coverage.</param>
/// <param name="Draws">Number of draws.</param>
public sealed record MonteCarloResult(double Mean, double StandardUncertainty, (double Lower, double Upper) Symmetric, (double Lower, double Upper) Shortest, double Level, int Draws);
