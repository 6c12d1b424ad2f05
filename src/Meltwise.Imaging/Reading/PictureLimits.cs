namespace Meltwise.Imaging.Reading;

/// <summary>What a picture file may claim before it is refused: guards against files made to exhaust the machine.</summary>
/// <param name="MaxFileBytes">Largest file, in bytes.</param>
/// <param name="MaxPixels">Largest picture, in pixels, whether read whole or by tiles.</param>
/// <param name="MaxWholePixels">Largest picture read whole into memory, in pixels; a larger one is read by tiles.</param>
/// <param name="MaxExpansion">Largest ratio of decoded bytes to file bytes.</param>
/// <param name="MaxPages">Largest number of pages of a multi-page file.</param>
public sealed record PictureLimits(
    long MaxFileBytes = 8L << 30,
    long MaxPixels = 1_200_000_000,
    long MaxWholePixels = 48_000_000,
    double MaxExpansion = 2000,
    int MaxPages = 4096)
{
    /// <summary>The limits used when none are given.</summary>
    public static PictureLimits Default { get; } = new();
}
