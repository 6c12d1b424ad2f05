using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>The same picture gives the same numbers to the bit: from run to run, wherever the arrays lie in memory, with one thread or many, by tiles or whole.</summary>
public sealed class DeterminismTests
{
    public static TheoryData<string, ThresholdRule> Pictures => new()
    {
        { "uneven_light", ThresholdRule.HalfContrast },
        { "noisy_blurred", ThresholdRule.HalfContrast },
        { "discs_af20_dark_tif8", ThresholdRule.Otsu },
        { "touching", ThresholdRule.Local },
    };

    /// <summary>Odd allocations between the runs shift the arrays against the width of a vector; a sum taken at vector width then differs in the last digits.</summary>
    [Theory]
    [MemberData(nameof(Pictures))]
    public void Runs_agree_to_the_bit(string name, ThresholdRule rule)
    {
        Bits first = Measure(name, rule);
        for (int run = 1; run <= 6; run++)
        {
            byte[] between = GC.AllocateUninitializedArray<byte>(85_000 + 8 * run);
            Assert.Equal(first, Measure(name, rule));
            GC.KeepAlive(between);
        }
    }

    [Theory]
    [MemberData(nameof(Pictures))]
    public async Task One_thread_agrees_with_many_to_the_bit(string name, ThresholdRule rule)
    {
        // Parallel loops take the scheduler they are called on; this one runs a task at a time.
        TaskScheduler one = new ConcurrentExclusiveSchedulerPair().ExclusiveScheduler;
        Bits single = await Task.Factory.StartNew(() => Measure(name, rule), TestContext.Current.CancellationToken, TaskCreationOptions.None, one);
        Assert.Equal(Measure(name, rule), single);
    }

    [Theory]
    [MemberData(nameof(Pictures))]
    public void Tiles_agree_with_the_whole_to_the_bit(string name, ThresholdRule rule)
    {
        Bits whole = Measure(name, rule);
        foreach (int tile in new[] { 111, 300, 513 }) Assert.Equal(whole, Measure(name, rule, tile));
    }

    private static Bits Measure(string name, ThresholdRule rule, int tile = 0)
    {
        using MicrographFile file = PictureReader.Open(MadePicture.Read(name).Path);
        PictureResult result = PictureMeasurement.Measure(file, new MeasurementOptions { TilePixels = tile, Settings = new() { Rule = rule } }, cancel: TestContext.Current.CancellationToken);
        HashCode particles = default;
        foreach (Particle p in result.ParticleList)
            foreach (double v in new[] { p.X, p.Y, p.Area, p.AreaOneStepUp, p.AreaOneStepDown, p.FeretMax, p.FeretMin, p.MajorAxis, p.MinorAxis, p.AngleDegrees, p.MeanGrey, p.Pixels }) particles.Add(BitConverter.DoubleToInt64Bits(v));
        return new(result.Count, BitConverter.DoubleToInt64Bits(result.Settings.Level!.Value), BitConverter.DoubleToInt64Bits(result.AreaFraction.Estimate), particles.ToHashCode());
    }

    private readonly record struct Bits(int Count, long Level, long Fraction, int Particles);
}
