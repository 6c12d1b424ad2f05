using Meltwise.Evidence;
using Meltwise.Imaging.Stereology;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Nested sampling against published figures: yield of dyestuff in six batches of five samples, O. L. Davies, Statistical Methods in Research and Production, 3rd ed. (1957), table 6.3; components and standard error as printed by D. M. Bates, lme4 (2010), section 1.3: 42.001, 49.510, 1527.5 ± 19.383.</summary>
public sealed class MountMeanTests
{
    private static readonly double[] s_yield =
    [
        1545, 1440, 1440, 1520, 1580, 1540, 1555, 1490, 1560, 1495, 1595, 1550, 1605, 1510, 1560,
        1445, 1440, 1595, 1465, 1545, 1595, 1630, 1515, 1635, 1625, 1520, 1455, 1450, 1480, 1445,
    ];

    private static readonly string[] s_batch = [.. Enumerable.Range(0, 30).Select(i => ((char)('A' + i / 5)).ToString())];

    [Fact]
    public void Dyestuff_as_printed()
    {
        MountSummary found = MountMean.Of(s_yield, s_batch)!;
        new Published("1527.5").Agrees(found.Mean.Estimate, "mean");
        new Published("19.383").Agrees(found.StandardError, "standard error");
        new Published("42.001").Agrees(found.BetweenMounts, "between batches");
        new Published("49.510").Agrees(found.BetweenFields, "within batches");
        // t of 5 degrees of freedom at 0.975 is 2.571 in every table.
        Assert.Equal(2.571 * 19.383, found.Mean.Upper!.Value - found.Mean.Estimate, 0.02);
        Assert.Empty(found.Notes);
    }

    [Fact]
    public void What_cannot_be_told_apart_has_no_summary()
    {
        Assert.Null(MountMean.Of([1, 2, 3], ["A", "A", "A"]));
        Assert.Null(MountMean.Of([1, 2, 3], ["A", "B", "C"]));
        Assert.NotEmpty(MountMean.Of([1, 2, 3], ["A", "A", "B"])!.Notes);
    }

    /// <summary>Made fields of one heat said to lie on two mounts: the interval is that of the mounts, wider than that of independent fields.</summary>
    [Fact]
    public void Pooling_takes_the_mounts()
    {
        string[] files = [.. new[] { "heatA_01", "heatA_02", "heatB_01", "heatB_02" }.Select(n => MadePicture.Read(n).Path)];
        MeasurementResult plain = Measured.Pictures(files), mounts = Measured.Pictures(files, new() { MountOf = f => Path.GetFileName(f)[..5] });
        Assert.Equal(2, mounts.Pooled.Mounts!.Mounts);
        Assert.Equal(plain.Pooled.AreaFraction.Estimate, mounts.Pooled.AreaFraction.Estimate, 1e-12);
        Assert.True(mounts.Pooled.AreaFraction.Upper > plain.Pooled.AreaFraction.Upper);
        Assert.Contains(plain.Notes, n => n.Contains("Mounts are not named", StringComparison.Ordinal));
        Assert.Contains(mounts.Notes, n => n.StartsWith("2 mounts", StringComparison.Ordinal));
    }
}
