namespace Meltwise.Imaging.Segmentation;

/// <summary>Splits the rows of a picture over the cores. Each row is computed alone, so the result does not depend on the split.</summary>
internal static class RowBands
{
    private const int RowsPerBand = 64;

    /// <summary>Workers of the scheduler the caller runs on: one that runs a task at a time gives one thread.</summary>
    public static ParallelOptions Workers(CancellationToken cancel = default) => new() { CancellationToken = cancel, TaskScheduler = TaskScheduler.Current };

    public static void Run(int height, Action<int, int> rows, CancellationToken cancel)
    {
        int bands = (height + RowsPerBand - 1) / RowsPerBand;
        Parallel.For(0, bands, Workers(cancel), band => rows(band * RowsPerBand, Math.Min(height, (band + 1) * RowsPerBand)));
    }
}
