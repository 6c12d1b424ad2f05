using Meltwise.Casework.Judging;
using Meltwise.Publishing.Report;
using SkiaSharp;

namespace Meltwise.Publishing.Tests;

/// <summary>Drawn fields of two invented lots: layout only, never a check of truth.</summary>
public static class InventedPictures
{
    /// <summary>The part.</summary>
    public static PicturePart Make(string reference = "K17", string candidate = "M03") => new()
    {
        Sets = [Set(reference, false, 7), Set(candidate, true, 11)],
        Quantities =
        [
            new(PictureJudgement.Judge("area fraction", [0.12, 0.125, 0.13, 0.118], [0.121, 0.128, 0.119, 0.124], 0.8, 1.25), "%", 100),
            new(PictureJudgement.Judge("largest particle of a field", [6.1, 7.2, 5.9, 6.6], [9.8, 11.2, 8.9, 12.0], 0.8, 1.25), "µm"),
        ],
        MarginLow = 0.8,
        MarginHigh = 1.25,
        Section = "L section, mid-radius",
        Etch = "nital 4 %, 15 s",
        Microscope = "light microscope, objective 50×",
        FieldRule = "every second millimetre along a line",
        Processing = "threshold halfway between matrix and particle, smallest particle 5 px",
        MeasuredBlind = true,
        Notes = ["one field of " + candidate + " left out: scratch"],
    };

    /// <summary>A field as a PNG with a text chunk that names somebody.</summary>
    public static byte[] Field(int seed, int width = 320, int height = 240)
    {
        using SKBitmap bitmap = new(width, height, SKColorType.Gray8, SKAlphaType.Opaque);
        using SKCanvas canvas = new(bitmap);
        canvas.Clear(new SKColor(190, 190, 190));
        using SKPaint dark = new() { Color = new SKColor(60, 60, 60), IsAntialias = true };
        for (int i = 0; i < 60; i++)
            canvas.DrawCircle((i * 61 * seed) % width, (i * 97 + seed * 31) % height, 2 + ((i + seed) % 5), dark);
        using SKData png = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        byte[] plain = png.ToArray();
        // After the signature and the header (8 + 25 bytes) a tEXt chunk may stand: length, type, text, checksum (PNG, third edition, 5.3 and 11.3.3.2).
        byte[] typed = [.. "tEXtAuthor\0Secret Forge"u8];
        uint check = Checksum(typed);
        return [.. plain[..33], 0, 0, 0, (byte)(typed.Length - 4), .. typed, (byte)(check >> 24), (byte)(check >> 16), (byte)(check >> 8), (byte)check, .. plain[33..]];
    }

    // CRC-32 of ISO 3309, as PNG asks for (annex D).
    private static uint Checksum(byte[] bytes)
    {
        uint crc = uint.MaxValue;
        foreach (byte b in bytes)
        {
            crc ^= b;
            for (int bit = 0; bit < 8; bit++)
                crc = (crc & 1) == 1 ? 0xEDB88320 ^ (crc >> 1) : crc >> 1;
        }
        return ~crc;
    }

    private static PictureSet Set(string heat, bool candidate, int seed) =>
        new(heat, candidate, 4, 0.31, new(Field(seed), 320, 240, 0.45, "field 2, area fraction 12.4 %"), new(Field(seed + 2, 400, 300), 400, 300, 0.45, $"field 4 of {heat}, largest particle 11.2 µm"));
}
