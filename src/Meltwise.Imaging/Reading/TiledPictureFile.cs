using NetVips;

namespace Meltwise.Imaging.Reading;

/// <summary>A picture file read window by window; only the windows in use are in memory.</summary>
/// <remarks>A tiled TIFF is read tile by tile. A file that can only be decoded from top to bottom is unpacked once by the decoder into a temporary file.</remarks>
internal sealed class TiledPictureFile(Image image, int bits) : GreySource
{
    private readonly Lock _gate = new();

    public override int Width => image.Width;

    public override int Height => image.Height;

    public override void Read(PixelBox window, Span<float> grey)
    {
        Span<float> levels = grey[..(int)window.Area];
        lock (_gate)
        {
            using Image crop = image.Crop(window.X, window.Y, window.Width, window.Height);
            if (bits == 8) GreyLevels.Average(crop.WriteToMemory<byte>(), image.Bands, levels);
            else GreyLevels.Average(crop.WriteToMemory<ushort>(), image.Bands, levels);
        }
    }

    /// <summary>Writes the picture as grey levels of 8 bits at halving sizes, tiled, in bounded memory.</summary>
    public void WriteLevels(string path, int tile, (double Black, double White) range, IProgress<double>? progress, CancellationToken cancel)
    {
        lock (_gate)
        {
            using Image colours = image.ExtractBand(0, n: image.Bands is 2 or 4 ? image.Bands - 1 : image.Bands);
            using Image grey = colours.Bands > 1 ? colours.Bandmean() : colours.Copy();
            double scale = 255 / (range.White - range.Black) / (bits == 8 ? 1 : 257);
            using Image shown = bits == 8 ? grey.Copy() : grey.Linear([scale], [-range.Black * 255 / (range.White - range.Black)], uchar: true);
            shown.SetProgress(new Percent(progress), cancel);
            shown.Tiffsave(path, compression: Enums.ForeignTiffCompression.Deflate, tile: true, tileWidth: tile, tileHeight: tile, pyramid: true, bigtiff: true, level: 1, depth: Enums.ForeignDzDepth.Onetile, keep: Enums.ForeignKeep.None);
        }
    }

    private sealed class Percent(IProgress<double>? share) : IProgress<int>
    {
        public void Report(int value) => share?.Report(value / 100.0);
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing) image.Dispose();
        base.Dispose(disposing);
    }
}

/// <summary>Turns decoded samples into grey levels in 8-bit steps.</summary>
internal static class GreyLevels
{
    /// <summary>Mean of the colour channels of each pixel; 16-bit levels are divided by 257. An alpha channel (second of two, fourth of four) is left out.</summary>
    public static void Average(ReadOnlySpan<byte> samples, int channels, Span<float> grey)
    {
        int colours = Colours(channels);
        float scale = 1f / colours;
        for (int i = 0, s = 0; i < grey.Length; i++, s += channels)
        {
            int sum = 0;
            for (int c = 0; c < colours; c++) sum += samples[s + c];
            grey[i] = sum * scale;
        }
    }

    /// <inheritdoc cref="Average(ReadOnlySpan{byte}, int, Span{float})"/>
    public static void Average(ReadOnlySpan<ushort> samples, int channels, Span<float> grey)
    {
        int colours = Colours(channels);
        float scale = 1f / (257f * colours);
        for (int i = 0, s = 0; i < grey.Length; i++, s += channels)
        {
            int sum = 0;
            for (int c = 0; c < colours; c++) sum += samples[s + c];
            grey[i] = sum * scale;
        }
    }

    private static int Colours(int channels) => channels is 2 or 4 ? channels - 1 : channels;
}
