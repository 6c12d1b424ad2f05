using System.Security.Cryptography;
using Meltwise.Casework.Picturing;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Publishing.Report;

namespace Meltwise.Publishing.Packs;

/// <summary>A picture in a pack: its record, its file and what was kept of its measurement.</summary>
/// <param name="Record">The record; its digest is that of the file.</param>
/// <param name="File">The original, or in the version that names nobody the same pixels without metadata.</param>
/// <param name="Measurement">What was found on it, or null.</param>
public sealed record PackedPicture(Picture Record, byte[] File, KeptMeasurement? Measurement)
{
    // A pack is made and read in memory.
    private const long MostBytes = 64L << 20, MostBytesOfAll = 320L << 20;

    /// <summary>Its path in the pack.</summary>
    public string Path => PathOf(Record);

    /// <summary>Path of a picture in a pack.</summary>
    public static string PathOf(Picture picture) => $"pictures/{string.Concat(picture.Name.Select(c => char.IsAsciiLetterOrDigit(c) || c == '-' ? c : '_'))}.{picture.Format switch { "JPEG" => "jpg", "TIFF" => "tif", _ => "png" }}";

    /// <summary>The pictures of an enquiry's heats, those set aside left out.</summary>
    /// <param name="bench">The bench.</param>
    /// <param name="enquiry">The enquiry.</param>
    /// <returns>The pictures that fit, and the names of those too large for a pack.</returns>
    /// <exception cref="BenchException">An original is missing or was altered.</exception>
    public static (IReadOnlyList<PackedPicture> Pictures, IReadOnlyList<string> TooLarge) Of(IBench bench, Enquiry enquiry)
    {
        List<PackedPicture> packed = [];
        List<string> tooLarge = [];
        long total = 0;
        foreach (Picture picture in AskStructure.Pictures(bench, enquiry))
        {
            string path = bench.OriginalPath(picture);
            long bytes = new FileInfo(path).Length;
            if (bytes > MostBytes || total + bytes > MostBytesOfAll)
            {
                tooLarge.Add(picture.Name);
                continue;
            }
            total += bytes;
            byte[] file = System.IO.File.ReadAllBytes(path);
            if (Digest(file) != picture.Sha256)
                throw new BenchException($"The original of picture {picture.Name} ({picture.FileName}) was altered after it was kept. Put it back from a backup before packing.");
            packed.Add(new(picture, file, bench.FindMeasurement(picture.Name)));
        }
        return (packed, tooLarge);
    }

    /// <summary>The picture for the version that names nobody: pixels without metadata, labels for names, day and device left out.</summary>
    internal PackedPicture Public(PrivateNames names)
    {
        string? Text(string? text) => text is null ? null : names.InTyped(text);
        byte[] file = PictureCopy.WithoutTraces(Record, File).Png;
        Picture record = Record with
        {
            Heat = names.Of(Record.Heat),
            Coupon = Text(Record.Coupon),
            Mount = Text(Record.Mount),
            Etch = Text(Record.Etch),
            Microscope = null,
            Notes = null,
            TakenOn = null,
            SetAside = null,
            FileName = $"{Record.Name}.png",
            Format = "PNG",
            Sha256 = Digest(file),
        };
        return new(record, file, Measurement is { } m ? m with { Settings = names.InText(m.Settings.Replace(Record.Sha256, record.Sha256, StringComparison.Ordinal)), Result = names.InText(m.Result) } : null);
    }

    /// <summary>SHA-256, hexadecimal, lower case.</summary>
    internal static string Digest(byte[] file) => Convert.ToHexStringLower(SHA256.HashData(file));
}
