namespace Meltwise.Metallurgy.Tests;

/// <summary>A listener to progress that is told on the working thread, so that a test sees the order.</summary>
internal sealed class ToldAtOnce(Action<double> told) : IProgress<double>
{
    public void Report(double value) => told(value);
}
