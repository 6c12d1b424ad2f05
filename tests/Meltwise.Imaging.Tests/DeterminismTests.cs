using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>The same picture gives the same numbers to the bit: from run to run, with vectors of any width, with one thread or more, by tiles or whole.</summary>
public sealed class DeterminismTests
{
    private const string Answer = "MELTWISE_TEST_FINGERPRINT";

    public static TheoryData<string, ThresholdRule> Pictures => new()
    {
        { "uneven_light", ThresholdRule.HalfContrast },
        { "noisy_blurred", ThresholdRule.HalfContrast },
        { "discs_af20_dark_tif8", ThresholdRule.Otsu },
        { "touching", ThresholdRule.Local },
    };

    /// <summary>Ten runs, each with one, two or three threads and other tiles.</summary>
    [Fact]
    public async Task Runs_threads_and_tiles_agree_to_the_bit()
    {
        GreyPicture picture = RacePicture.Draw();
        string first = await OnThreads(1, () => Fingerprint(picture, new(), 0));
        int[] tiles = [0, 333, 700, 1024, 0, 1999, 512, 0, 250, 800];
        for (int run = 0; run < tiles.Length; run++)
            Assert.Equal(first, await OnThreads(1 + run % 3, () => Fingerprint(picture, new(), tiles[run])));
    }

    /// <summary>Processors differ in the width of their vectors; a sum taken at that width is added up in another order. This process is run again as a processor without the widest vectors, with narrow ones and with none.</summary>
    [Theory]
    [InlineData("DOTNET_EnableAVX512")]
    [InlineData("DOTNET_EnableAVX2")]
    [InlineData("DOTNET_EnableHWIntrinsic")]
    public async Task Vectors_of_any_width_agree_to_the_bit(string switchedOff)
    {
        string file = Path.Combine(Path.GetTempPath(), $"meltwise-{Guid.NewGuid():N}.txt");
        try
        {
            (int code, string said) = await RunAgain(switchedOff, file);
            Assert.True(code == 0, said);
            Assert.Equal(All(), await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken));
        }
        finally
        {
            File.Delete(file);
        }
    }

    /// <summary>What the other processes of <see cref="Vectors_of_any_width_agree_to_the_bit"/> run; by itself it says that two runs agree.</summary>
    [Fact]
    public void Two_runs_agree_to_the_bit()
    {
        string all = All();
        if (Environment.GetEnvironmentVariable(Answer) is { Length: > 0 } file) File.WriteAllText(file, all);
        else Assert.Equal(all, All());
    }

    [Theory]
    [MemberData(nameof(Pictures))]
    public async Task One_thread_agrees_with_many_to_the_bit(string name, ThresholdRule rule) =>
        Assert.Equal(Made(name, rule), await OnThreads(1, () => Made(name, rule)));

    [Theory]
    [MemberData(nameof(Pictures))]
    public void Tiles_agree_with_the_whole_to_the_bit(string name, ThresholdRule rule)
    {
        string whole = Made(name, rule);
        foreach (int tile in new[] { 111, 300, 513 }) Assert.Equal(whole, Made(name, rule, tile));
    }

    private static string All() => string.Join(' ', Pictures.Select(p => Made(p.Data.Item1, p.Data.Item2)).Append(Fingerprint(RacePicture.Draw(), new(), 0)));

    private static async Task<(int Code, string Said)> RunAgain(string switchedOff, string file)
    {
        string self = Environment.ProcessPath!, library = typeof(DeterminismTests).Assembly.Location;
        ProcessStartInfo start = new(self) { UseShellExecute = false, RedirectStandardOutput = true };
        if (Path.GetFileNameWithoutExtension(self).Equals("dotnet", StringComparison.OrdinalIgnoreCase)) start.ArgumentList.Add(library);
        start.ArgumentList.Add("-method");
        start.ArgumentList.Add($"{typeof(DeterminismTests).FullName}.{nameof(Two_runs_agree_to_the_bit)}");
        start.Environment[switchedOff] = "0";
        start.Environment[Answer] = file;
        using Process again = Process.Start(start)!;
        string said = await again.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await again.WaitForExitAsync(TestContext.Current.CancellationToken);
        return (again.ExitCode, said);
    }

    /// <summary>Parallel loops take the scheduler they are called on; this one runs so many tasks at a time.</summary>
    private static Task<string> OnThreads(int threads, Func<string> work)
    {
        TaskScheduler few = new ConcurrentExclusiveSchedulerPair(TaskScheduler.Default, threads).ConcurrentScheduler;
        return Task.Factory.StartNew(work, TestContext.Current.CancellationToken, TaskCreationOptions.None, few);
    }

    private static string Made(string name, ThresholdRule rule, int tile = 0)
    {
        using MicrographFile file = PictureReader.Open(MadePicture.Read(name).Path);
        PictureResult result = PictureMeasurement.Measure(file, new MeasurementOptions { TilePixels = tile, Settings = new() { Rule = rule } }, cancel: TestContext.Current.CancellationToken);
        return Hash(result.ParticleList, result.Settings.Level!.Value, result.AreaFraction.Estimate, result.DiameterPx!.Mean, result.Clustering!.MeanDistance);
    }

    private static string Fingerprint(GreyPicture picture, SegmentationSettings settings, int tile)
    {
        SegmentationPlan plan = SegmentationPlan.For(picture, picture.Frame, settings, TestContext.Current.CancellationToken);
        SegmentedPicture found = PictureSegmentation.Run(picture, plan, tile: tile, cancel: TestContext.Current.CancellationToken);
        return Hash(found.Particles, plan.Settings.Level!.Value, plan.Settings.SmoothingPx!.Value, plan.MatrixLevel, plan.ParticleLevel, plan.Noise, plan.BlurPx, plan.Shading!.Mean);
    }

    /// <summary>Count, mean diameter to read, and a digest of every bit.</summary>
    private static string Hash(IReadOnlyList<Particle> particles, params double[] figures)
    {
        using MemoryStream bits = new();
        using BinaryWriter writer = new(bits);
        foreach (double figure in figures) writer.Write(figure);
        foreach (Particle p in particles)
            foreach (double v in new[] { p.X, p.Y, p.Area, p.AreaOneStepUp, p.AreaOneStepDown, p.FeretMax, p.FeretMin, p.MajorAxis, p.MinorAxis, p.AngleDegrees, p.MeanGrey, p.Pixels }) writer.Write(v);
        writer.Flush();
        return string.Create(CultureInfo.InvariantCulture, $"{particles.Count}:{particles.Average(p => p.EquivalentDiameter):R}:{Convert.ToHexString(SHA256.HashData(bits.ToArray()))[..16]}");
    }
}
