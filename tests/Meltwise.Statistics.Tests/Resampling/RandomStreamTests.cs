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

    // Blocks of work start streams of their own, so it is the first numbers of many streams that must be random among themselves.
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void First_numbers_of_many_streams_fill_equal_cells_equally(bool varySeed)
    {
        int[] cells = new int[40];
        const int Streams = 200_000;
        double product = 0, last = 0;
        for (int i = 0; i < Streams; i++)
        {
            RandomStream random = varySeed ? new(i, 0) : new(8, i);
            double z = random.Normal();
            cells[Math.Min(39, (int)(40 * Normal.Cdf(z)))]++;
            product += z * last;
            last = z;
        }
        double expected = Streams / 40.0, chi = cells.Sum(c => (c - expected) * (c - expected) / expected);
        Assert.InRange(ChiSquared.UpperTail(chi, 39), 1e-4, 1 - 1e-4);
        Assert.InRange(product / Math.Sqrt(Streams), -4, 4);
    }

    // Sums of squares of twelve, taken 26 numbers apart as a table of coupons takes them: chi-squared with 12 degrees of freedom.
    [Fact]
    public void Numbers_far_apart_in_one_stream_are_independent()
    {
        int[] cells = new int[20];
        const int Tables = 20_000;
        for (int seed = 0; seed < Tables; seed++)
        {
            RandomStream random = new(seed, 0);
            double squares = 0;
            for (int heat = 0; heat < 12; heat++)
            {
                double z = random.Normal();
                squares += z * z;
                for (int i = 0; i < 25; i++) random.Normal();
            }
            cells[Math.Min(19, (int)(20 * ChiSquared.Cdf(squares, 12)))]++;
        }
        double expected = Tables / 20.0, chi = cells.Sum(c => (c - expected) * (c - expected) / expected);
        Assert.InRange(ChiSquared.UpperTail(chi, 19), 1e-4, 1 - 1e-4);
    }
}
