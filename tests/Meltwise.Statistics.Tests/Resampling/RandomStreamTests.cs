using Meltwise.Statistics.Distributions;
using Meltwise.Statistics.Resampling;
using Xunit;

namespace Meltwise.Statistics.Tests.Resampling;

public sealed class RandomStreamTests
{
    // Chi-squared test over 40 equally likely cells of the normal, tails included; refused at 1e-4 in either direction.
    [Fact]
    public void Normals_fill_equal_cells_equally()
    {
        RandomStream random = new(20, 0);
        int[] cells = new int[40];
        const int Draws = 400_000;
        for (int i = 0; i < Draws; i++) cells[Math.Min(39, (int)(40 * Normal.Cdf(random.Normal())))]++;
        double expected = Draws / 40.0, chi = cells.Sum(c => (c - expected) * (c - expected) / expected);
        Assert.InRange(ChiSquared.UpperTail(chi, 39), 1e-4, 1 - 1e-4);
    }

    // Beyond 3.66 only the tail algorithm draws: P(|Z| > 3.8) = 1.447e-4, counted over 2 million within four standard errors.
    [Fact]
    public void The_far_tail_is_neither_thick_nor_thin()
    {
        RandomStream random = new(21, 3);
        int beyond = 0;
        const int Draws = 2_000_000;
        for (int i = 0; i < Draws; i++)
            if (Math.Abs(random.Normal()) > 3.8) beyond++;
        double expected = Draws * 2 * Normal.UpperTail(3.8);
        Assert.InRange(beyond - expected, -4 * Math.Sqrt(expected), 4 * Math.Sqrt(expected));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2.5)]
    [InlineData(16)]
    public void Chi_squared_fills_equal_cells_equally(double nu)
    {
        RandomStream random = new(22, 1);
        int[] cells = new int[25];
        const int Draws = 100_000;
        for (int i = 0; i < Draws; i++) cells[Math.Min(24, (int)(25 * ChiSquared.Cdf(random.ChiSquared(nu), nu)))]++;
        double expected = Draws / 25.0, chi = cells.Sum(c => (c - expected) * (c - expected) / expected);
        Assert.InRange(ChiSquared.UpperTail(chi, 24), 1e-4, 1 - 1e-4);
    }

    [Fact]
    public void Streams_of_one_seed_differ() => Assert.NotEqual(new RandomStream(1, 0).Bits(), new RandomStream(1, 1).Bits());
}
