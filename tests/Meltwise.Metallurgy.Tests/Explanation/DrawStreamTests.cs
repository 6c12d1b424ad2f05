using Meltwise.Metallurgy.Explanation;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Explanation;

public sealed class DrawStreamTests
{
    [Fact] // Moments of the normal distribution over 40 000 first numbers of 40 000 streams: standard errors 0.005, 0.007, 0.024.
    public void First_numbers_of_neighbouring_streams_are_independent_normals()
    {
        double[] z = [.. Enumerable.Range(0, 40_000).Select(i => new DrawStream(1, i).NextNormal())];
        Assert.Equal(0, z.Average(), 0.02);
        Assert.Equal(1, z.Average(v => v * v), 0.03);
        Assert.Equal(3, z.Average(v => v * v * v * v), 0.1);
        Assert.Equal(0, Enumerable.Range(1, z.Length - 1).Average(i => z[i] * z[i - 1]), 0.02);
    }

    [Fact]
    public void A_uniform_is_never_0_or_1_and_a_stream_repeats()
    {
        DrawStream a = new(9, 3), b = new(9, 3);
        for (int i = 0; i < 1000; i++)
        {
            double u = a.NextUniform();
            Assert.True(u is > 0 and < 1);
            Assert.Equal(u, b.NextUniform());
        }
    }
}
