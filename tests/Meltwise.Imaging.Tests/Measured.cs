using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Measurements that stop with the test run.</summary>
internal static class Measured
{
    public static MeasurementResult Pictures(IReadOnlyList<string> paths, MeasurementOptions? options = null, IProgress<MeasurementProgress>? progress = null) =>
        PictureMeasurement.Measure(paths, options, progress, TestContext.Current.CancellationToken);

    public static PictureResult Picture(string path, MeasurementOptions? options = null) => Pictures([path], options).Images[0];
}
