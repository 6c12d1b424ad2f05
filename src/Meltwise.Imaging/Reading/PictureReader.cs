using System.Globalization;
using System.Security.Cryptography;
using NetVips;

namespace Meltwise.Imaging.Reading;

/// <summary>Reads PNG, JPEG and TIFF micrographs: 8 and 16 bit, tiled, multi-page. The file's own pixels are used; nothing is resampled.</summary>
/// <remarks>
/// <para><b>Kept.</b> The SHA-256 of the file as read, so a result names the very picture it came from.</para>
/// <para><b>Orientation.</b> A picture with an orientation tag is turned upright (a permutation of pixels) and a note says so.</para>
/// <para><b>Limits.</b> Size, pixels, expansion and pages are checked against <see cref="PictureLimits"/> from the header, before anything is decoded.</para>
/// </remarks>
public static class PictureReader
{
    private static readonly string[] s_formats = ["Png", "Jpeg", "Tiff"];

    /// <summary>Opens a picture file.</summary>
    /// <param name="path">The file.</param>
    /// <param name="page">Page of a multi-page file, from 0.</param>
    /// <param name="limits">What the file may claim; <see cref="PictureLimits.Default"/> when null.</param>
    /// <returns>The picture; dispose it when done.</returns>
    /// <exception cref="UnreadablePictureException">Not a readable picture, not of a known kind, or beyond the limits.</exception>
    public static MicrographFile Open(string path, int page = 0, PictureLimits? limits = null)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        limits ??= PictureLimits.Default;
        PictureDecoder.Prepare();
        FileInfo file = new(path);
        if (!file.Exists) throw new UnreadablePictureException(path, "no such file", "a PNG, JPEG or TIFF picture");
        if (file.Length > limits.MaxFileBytes)
            throw new UnreadablePictureException(path, Text($"{file.Length} bytes"), Text($"at most {limits.MaxFileBytes} bytes"));
        try
        {
            return Open(path, page, file.Length, limits);
        }
        catch (VipsException)
        {
            throw new UnreadablePictureException(path, "the file is damaged or cut short, or is no picture", "a whole PNG, JPEG or TIFF picture");
        }
    }

    private static MicrographFile Open(string path, int page, long bytes, PictureLimits limits)
    {
        string format = FormatOf(path)
            ?? throw new UnreadablePictureException(path, "the content is of another kind", "PNG, JPEG or TIFF content");
        using (Image header = Image.NewFromFile(path))
            Check(header, path, bytes, page, limits);

        Image image = format == "TIFF"
            ? Image.NewFromFile(path, access: Enums.Access.Random, failOn: Enums.FailOn.Error, kwargs: new VOption { ["page"] = page })
            : Image.NewFromFile(path, access: Enums.Access.Random, failOn: Enums.FailOn.Error);
        List<string> notes = [];
        image = Upright(image, notes);
        int bits = image.Format == Enums.BandFormat.Ushort ? 16 : 8;
        PictureMetadata metadata = new(format, image.Width, image.Height, bits, image.Bands, Pages(image), page, PixelSize(image, notes), notes);
        if (metadata.Pages > 1) notes.Add(Text($"The file has {metadata.Pages} pages; page {page + 1} was taken."));
        if (image.Bands > 1) notes.Add("Colour channels were averaged to one grey level a pixel.");
        string digest = Digest(path);
        return new MicrographFile(path, digest, metadata, Source(image, bits, limits));
    }

    private static GreySource Source(Image image, int bits, PictureLimits limits)
    {
        TiledPictureFile tiled = new(image, bits);
        if ((long)image.Width * image.Height > limits.MaxWholePixels) return tiled;
        using (tiled)
        {
            var grey = new float[image.Width * image.Height];
            tiled.Read(tiled.Frame, grey);
            return new GreyPicture(image.Width, image.Height, grey);
        }
    }

    private static string? FormatOf(string path)
    {
        string loader = Image.FindLoad(path) ?? "";
        return s_formats.FirstOrDefault(f => loader.Contains(f, StringComparison.OrdinalIgnoreCase))?.ToUpperInvariant();
    }

    private static void Check(Image header, string path, long bytes, int page, PictureLimits limits)
    {
        long pixels = (long)header.Width * header.Height;
        if (pixels > limits.MaxPixels)
            throw new UnreadablePictureException(path, Text($"{header.Width} x {header.Height} pixels"), Text($"at most {limits.MaxPixels} pixels"));
        if (header.Format is not (Enums.BandFormat.Uchar or Enums.BandFormat.Ushort))
            throw new UnreadablePictureException(path, $"samples of kind {header.Format}", "8-bit or 16-bit unsigned samples");
        if (header.Interpretation == Enums.Interpretation.Cmyk)
            throw new UnreadablePictureException(path, "printing inks (CMYK)", "grey or RGB");
        if (header.Bands > 4)
            throw new UnreadablePictureException(path, Text($"{header.Bands} channels"), "1 to 4 channels");
        double decoded = (double)pixels * header.Bands * (header.Format == Enums.BandFormat.Ushort ? 2 : 1);
        if (decoded > limits.MaxExpansion * Math.Max(bytes, 4096))
            throw new UnreadablePictureException(path, Text($"{bytes} bytes that unpack to {decoded:0} bytes"), Text($"an expansion of at most {limits.MaxExpansion}"));
        int pages = Pages(header);
        if (pages > limits.MaxPages) throw new UnreadablePictureException(path, Text($"{pages} pages"), Text($"at most {limits.MaxPages} pages"));
        if (page < 0 || page >= pages) throw new UnreadablePictureException(path, Text($"{pages} pages, so no page {page}"), Text($"a page from 0 to {pages - 1}"));
    }

    private static Image Upright(Image image, List<string> notes)
    {
        if (!image.Contains("orientation") || image.Get("orientation") is not int and not long || Convert.ToInt32(image.Get("orientation"), CultureInfo.InvariantCulture) == 1)
            return image;
        using (image)
        {
            notes.Add("The picture was turned upright by its orientation tag.");
            return image.Autorot().CopyMemory();
        }
    }

    private static int Pages(Image image) => image.Contains("n-pages") ? Convert.ToInt32(image.Get("n-pages"), CultureInfo.InvariantCulture) : 1;

    /// <summary>Pixel size from resolution tags. Resolutions below 100 pixels per millimetre are paper and screen settings, not a specimen's.</summary>
    private static double? PixelSize(Image image, List<string> notes)
    {
        double x = image.Xres, y = image.Yres;
        if (!(x > 100) || !(y > 100) || !double.IsFinite(x) || !double.IsFinite(y)) return null;
        if (Math.Abs(x / y - 1) > 0.001)
        {
            notes.Add(Text($"The resolution tags give pixels that are not square ({1000 / x:G6} by {1000 / y:G6} micrometres) and were not used."));
            return null;
        }
        return 1000 / x;
    }

    /// <summary>SHA-256 of a file, in hexadecimal.</summary>
    internal static string Digest(string path)
    {
        using FileStream stream = File.OpenRead(path);
        return Convert.ToHexStringLower(SHA256.HashData(stream));
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}

/// <summary>An opened micrograph: its pixels, its digest and what the file says of itself.</summary>
/// <param name="Path">The file as given.</param>
/// <param name="Sha256">SHA-256 of the file, in hexadecimal.</param>
/// <param name="Metadata">What the file says of itself.</param>
/// <param name="Grey">The grey levels.</param>
public sealed record MicrographFile(string Path, string Sha256, PictureMetadata Metadata, GreySource Grey) : IDisposable
{
    /// <inheritdoc/>
    public void Dispose() => Grey.Dispose();
}
