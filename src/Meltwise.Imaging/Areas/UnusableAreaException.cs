namespace Meltwise.Imaging.Areas;

/// <summary>Marked areas that cannot be used; the message names the area, what was found and what is needed.</summary>
/// <param name="message">The message.</param>
public sealed class UnusableAreaException(string message) : Exception(message);
