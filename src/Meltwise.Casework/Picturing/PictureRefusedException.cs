namespace Meltwise.Casework.Picturing;

/// <summary>Pictures that cannot be measured or compared; the message names the picture, what was found and what is needed.</summary>
public sealed class PictureRefusedException(string message, Exception? inner = null) : Exception(message, inner);
