using Meltwise.Casework.Recording;
using Meltwise.Domain;
using NetVips;

namespace Meltwise.Casework.Picturing;

/// <summary>A copy of a picture to be shown elsewhere.</summary>
/// <param name="Png">PNG that holds pixels and nothing else.</param>
/// <param name="WidthPx">Width, px.</param>
/// <param name="HeightPx">Height, px.</param>
/// <param name="MicrometresPerPixel">Scale of the copy; null when unknown.</param>
public sealed record ShownCopy(byte[] Png, int WidthPx, int HeightPx, double? MicrometresPerPixel);

/// <summary>Copies of pictures made to leave the bench: no place, time, name or device from the file's metadata goes with them. What is burnt into the pixels stays.</summary>
public static class PictureCopy
{
    /// <summary>Copy for print: shrunk, by the same factor for pictures of one size, so that none is more than that many pixels across.</summary>
    /// <exception cref="BenchException">The original is missing, altered or cannot be read.</exception>
    public static ShownCopy ForPrint(IBench bench, Picture picture, int mostPx)
    {
        double factor = Math.Max(1, (double)Math.Max(picture.Width, picture.Height) / mostPx);
        return Of(bench, picture, path => Image.Thumbnail(path, Math.Max(1, (int)Math.Round(picture.Width / factor)), height: Math.Max(1, (int)Math.Round(picture.Height / factor)), size: Enums.Size.Force));
    }

    /// <summary>The same pixels, upright, without metadata.</summary>
    /// <param name="picture">The record.</param>
    /// <param name="file">Its original, held whole.</param>
    /// <exception cref="BenchException">The original cannot be read.</exception>
    public static ShownCopy WithoutTraces(Picture picture, byte[] file)
    {
        try
        {
            using Image read = Image.NewFromBuffer(file, access: Enums.Access.Random, failOn: Enums.FailOn.Truncated);
            using Image upright = read.Autorot();
            return Bare(picture, upright);
        }
        catch (VipsException unread)
        {
            throw Unread(picture, unread);
        }
    }

    private static ShownCopy Of(IBench bench, Picture picture, Func<string, Image> read)
    {
        string path = bench.OriginalPath(picture);
        try
        {
            using (FileStream file = File.OpenRead(path))
                MeasureKept.DemandUnaltered(picture, Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(file)));
            using Image image = read(path);
            return Bare(picture, image);
        }
        catch (PictureRefusedException altered)
        {
            throw new BenchException(altered.Message, altered);
        }
        catch (VipsException unread)
        {
            throw Unread(picture, unread);
        }
    }

    private static ShownCopy Bare(Picture picture, Image image) =>
        new(image.PngsaveBuffer(keep: Enums.ForeignKeep.None), image.Width, image.Height, picture.MicrometresPerPixel * picture.Width / image.Width);

    private static BenchException Unread(Picture picture, VipsException unread) =>
        new($"Picture {picture.Name} ({picture.FileName}) cannot be read any more. Its record stands; put the original back from a backup.", unread);
}
