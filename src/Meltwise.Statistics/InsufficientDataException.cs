namespace Meltwise.Statistics;

/// <summary>The data cannot support the asked-for estimate. The message names what is missing and what to record.</summary>
public sealed class InsufficientDataException(string message) : InvalidOperationException(message);
