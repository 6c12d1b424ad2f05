using System.Globalization;
using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging.Tests;

/// <summary>How a bar is set into a picture.</summary>
public enum BarStyle
{
    /// <summary>White on a black strip along the bottom.</summary>
    BlackStrip,

    /// <summary>Black on a white strip along the bottom.</summary>
    WhiteStrip,

    /// <summary>White on a strip of dark grey along the top.</summary>
    GreyStripOnTop,

    /// <summary>White in a black box.</summary>
    Box,

    /// <summary>White on the picture, label above.</summary>
    White,

    /// <summary>Black on the picture, label below.</summary>
    Black,

    /// <summary>White on the picture with ticks at its ends.</summary>
    Ticked,
}

/// <summary>A made picture of discs with a bar and a label of known text set into it.</summary>
internal sealed record DrawnBar(GreyPicture Picture, double From, double To, double Micrometres)
{
    private const int Width = 640, Height = 480;

    /// <summary>The labels of Published/made-labels.</summary>
    public static IReadOnlyList<(string File, string Text, double Micrometres, bool Known)> Labels { get; } =
        [.. File.ReadAllLines(Path.Combine(LabelPicture.Folder("made-labels"), "labels.csv")).Skip(1).Select(l => l.Split(',')).Select(f => (f[0], f[1], double.Parse(f[2], CultureInfo.InvariantCulture), f[4] == "1"))];

    /// <summary>Sets a label and a bar into a picture.</summary>
    public static DrawnBar Of((string File, string Text, double Micrometres, bool Known) label, BarStyle style, double noise, int seed)
    {
        Random random = new(seed);
        float[] grey = Discs(random);
        using MicrographFile file = PictureReader.Open(Path.Combine(LabelPicture.Folder("made-labels"), label.File));
        GreyPicture sprite = (GreyPicture)file.Grey;
        int length = Math.Max(sprite.Width + 10, 70 + random.Next(120)), thick = 3 + random.Next(5), block = sprite.Height + thick + 18;
        bool atTop = style == BarStyle.GreyStripOnTop, strip = style is BarStyle.BlackStrip or BarStyle.WhiteStrip or BarStyle.GreyStripOnTop;
        int x = strip ? Width - length - 40 : 25 + random.Next(Width - length - 60), top = atTop ? 6 : strip ? Height - block + 4 : Height - block - 15 - random.Next(200);
        (float ground, float ink) = style switch { BarStyle.WhiteStrip => (255f, 0f), BarStyle.GreyStripOnTop => (48f, 255f), BarStyle.Black => (0f, 0f), _ => (0f, 255f) };
        if (strip) Fill(grey, new(0, atTop ? 0 : Height - block, Width, block), ground);
        if (style == BarStyle.Box) Fill(grey, new(x - 9, top - 6, length + 18, block), ground);
        bool below = style == BarStyle.Black;
        int barTop = below ? top : top + sprite.Height + 5, textTop = below ? top + thick + 5 : top;
        Fill(grey, new(x, barTop, length, thick), ink);
        if (style == BarStyle.Ticked)
            foreach (int end in new[] { x, x + length - 2 }) Fill(grey, new(end, barTop - 4, 2, thick + 8), ink);
        Blend(grey, sprite, x + (length - sprite.Width) / 2, textTop, ink);
        for (int i = 0; i < grey.Length && noise > 0; i++) grey[i] = (float)Math.Clamp(Math.Round(grey[i] + noise * (Enumerable.Range(0, 12).Sum(_ => random.NextDouble()) - 6)), 0, 255);
        return new(new GreyPicture(Width, Height, grey), x, x + length, label.Micrometres);
    }

    private static float[] Discs(Random random)
    {
        var grey = new float[Width * Height];
        for (int i = 0; i < grey.Length; i++) grey[i] = 90 + 3 * (float)random.NextDouble();
        for (int k = 0; k < 120; k++)
        {
            double cx = random.Next(Width), cy = random.Next(Height), r = 3 + 12 * random.NextDouble();
            for (int y = Math.Max(0, (int)(cy - r)); y < Math.Min(Height, cy + r + 1); y++)
                for (int x = Math.Max(0, (int)(cx - r)); x < Math.Min(Width, cx + r + 1); x++)
                    if ((x - cx) * (x - cx) + (y - cy) * (y - cy) <= r * r) grey[y * Width + x] = 190;
        }
        GaussianBlur(grey);
        return [.. grey.Select(v => MathF.Round(v))];
    }

    private static void GaussianBlur(float[] grey)
    {
        float[] copy = [.. grey];
        for (int y = 1; y < Height - 1; y++)
            for (int x = 1; x < Width - 1; x++)
            {
                int i = y * Width + x;
                grey[i] = 0.25f * copy[i] + 0.125f * (copy[i - 1] + copy[i + 1] + copy[i - Width] + copy[i + Width]) + 0.0625f * (copy[i - Width - 1] + copy[i - Width + 1] + copy[i + Width - 1] + copy[i + Width + 1]);
            }
    }

    private static void Fill(float[] grey, PixelBox box, float level)
    {
        for (int y = box.Y; y < box.Bottom; y++) grey.AsSpan(y * Width + box.X, box.Width).Fill(level);
    }

    private static void Blend(float[] grey, GreyPicture sprite, int left, int top, float ink)
    {
        for (int y = 0; y < sprite.Height; y++)
            for (int x = 0; x < sprite.Width; x++)
            {
                int at = (top + y) * Width + left + x;
                grey[at] += (ink - grey[at]) * sprite[x, y] / 255;
            }
    }
}
