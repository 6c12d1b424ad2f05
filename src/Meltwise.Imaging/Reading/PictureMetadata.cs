namespace Meltwise.Imaging.Reading;

/// <summary>What a picture file says of itself.</summary>
/// <param name="Format">File format: PNG, JPEG or TIFF.</param>
/// <param name="Width">Width in pixels, after turning by the orientation tag.</param>
/// <param name="Height">Height in pixels, after turning by the orientation tag.</param>
/// <param name="BitsPerSample">8 or 16.</param>
/// <param name="Channels">Channels in the file; colours are averaged to grey, an alpha channel is left out.</param>
/// <param name="Pages">Pages in the file.</param>
/// <param name="Page">The page read, from 0.</param>
/// <param name="MicrometresPerPixel">Size of a pixel by the file's resolution tags in micrometres, or null where there are none or they describe paper or a screen rather than a specimen.</param>
/// <param name="Notes">What was done on reading that a reader of the result must know.</param>
public sealed record PictureMetadata(
    string Format,
    int Width,
    int Height,
    int BitsPerSample,
    int Channels,
    int Pages,
    int Page,
    double? MicrometresPerPixel,
    IReadOnlyList<string> Notes);
