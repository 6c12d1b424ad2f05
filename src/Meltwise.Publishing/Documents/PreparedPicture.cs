using SkiaSharp;

namespace Meltwise.Publishing.Documents;

/// <summary>A picture made ready for print: decoded and encoded anew, so that nothing but its pixels is left, and no larger than print can show.</summary>
/// <param name="Png">PNG without any metadata.</param>
/// <param name="WidthPx">Width, px.</param>
/// <param name="HeightPx">Height, px.</param>
public sealed record PreparedPicture(byte[] Png, int WidthPx, int HeightPx)
{
    // 1200 px across half of an A4 page is more than 350 to the inch.
    private const int MostPx = 1200;

    /// <summary>Prepares a file.</summary>
    /// <exception cref="ReportFaultException">It is no picture that can be read.</exception>
    public static PreparedPicture Of(ReadOnlyMemory<byte> file)
    {
        using SKData data = SKData.CreateCopy(file.Span);
        using SKCodec? codec = SKCodec.Create(data);
        using SKBitmap picture = (codec is null ? null : SKBitmap.Decode(codec)) ?? throw new ReportFaultException("A picture of the report cannot be read. It should be a PNG or JPEG file; take it out of the enquiry's pictures, or bring it in again.");
        double shrink = Math.Min(1, (double)MostPx / Math.Max(picture.Width, picture.Height));
        if (shrink == 1)
            return Encoded(picture);
        using SKBitmap smaller = picture.Resize(new SKSizeI(Math.Max(1, (int)Math.Round(picture.Width * shrink)), Math.Max(1, (int)Math.Round(picture.Height * shrink))), new SKSamplingOptions(SKCubicResampler.Mitchell));
        return Encoded(smaller);
    }

    private static PreparedPicture Encoded(SKBitmap picture)
    {
        using SKData data = picture.Encode(SKEncodedImageFormat.Png, 100);
        return new(data.ToArray(), picture.Width, picture.Height);
    }
}
