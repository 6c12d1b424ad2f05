namespace Meltwise.Metallurgy.Explanation;

/// <summary>The chain cannot answer, and why.</summary>
public sealed class ChainRefusedException(string message) : InvalidOperationException(message);
