namespace Meltwise.Web.LongWork;

/// <summary>Progress of one step of a longer work: the step's 0 to 1 becomes its share of the whole.</summary>
/// <param name="whole">Progress of the whole.</param>
/// <param name="from">Share done when the step begins.</param>
/// <param name="to">Share done when it ends.</param>
internal sealed class ShareOfWork(IProgress<double> whole, double from, double to) : IProgress<double>
{
    /// <inheritdoc/>
    public void Report(double value) => whole.Report(from + ((to - from) * Math.Clamp(value, 0, 1)));
}
