namespace Meltwise.Casework.Intake;

/// <summary>Counts rows as they pass, tells the share done, and stops between rows. A bench writes changes as they come, inside its transaction, so that stopping leaves nothing behind.</summary>
internal sealed class RowsDone(int rows, IProgress<double>? progress, CancellationToken cancel)
{
    private const int Told = 500;
    private int _done;

    /// <summary>The rows one after the other.</summary>
    public IEnumerable<T> Through<T>(IEnumerable<T> source)
    {
        foreach (T row in source)
        {
            cancel.ThrowIfCancellationRequested();
            yield return row;
            if (++_done % Told == 0) progress?.Report(_done / (double)Math.Max(rows, 1));
        }
    }
}
