using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using NetVips;

namespace Meltwise.Imaging.Viewing;

/// <summary>Levels held in memory, a byte a pixel.</summary>
internal sealed class HeldLevels : IDisplayLevels
{
    private readonly List<(int Width, int Height, byte[] Grey)> _levels = [];

    public HeldLevels(GreyPicture picture, (double Black, double White) range, int levels)
    {
        var grey = new byte[picture.Width * picture.Height];
        double scale = 255 / (range.White - range.Black);
        RowBands.Run(picture.Height, (from, to) =>
        {
            ReadOnlySpan<float> all = picture.Grey;
            for (int i = from * picture.Width; i < to * picture.Width; i++) grey[i] = (byte)Math.Clamp(Math.Round((all[i] - range.Black) * scale), 0, 255);
        }, CancellationToken.None);
        _levels.Add((picture.Width, picture.Height, grey));
        while (_levels.Count < levels) _levels.Add(Half(_levels[^1]));
    }

    public (int Width, int Height) Size(int level) => (_levels[level].Width, _levels[level].Height);

    public byte[] Png(int level, PixelBox box)
    {
        (int width, _, byte[] grey) = _levels[level];
        var tile = new byte[box.Area];
        for (int y = 0; y < box.Height; y++) grey.AsSpan((box.Y + y) * width + box.X, box.Width).CopyTo(tile.AsSpan(y * box.Width));
        using Image image = Image.NewFromMemory(tile, box.Width, box.Height, 1, Enums.BandFormat.Uchar);
        return image.PngsaveBuffer(compression: 3);
    }

    public void Dispose() => _levels.Clear();

    private static (int Width, int Height, byte[] Grey) Half((int Width, int Height, byte[] Grey) full)
    {
        int width = Math.Max(1, full.Width / 2), height = Math.Max(1, full.Height / 2);
        var half = new byte[width * height];
        for (int y = 0; y < height; y++)
            for (int x = 0; x < width; x++)
            {
                int at = 2 * y * full.Width + 2 * x, right = full.Width > 1 ? 1 : 0, down = full.Height > 1 ? full.Width : 0;
                half[y * width + x] = (byte)((full.Grey[at] + full.Grey[at + right] + full.Grey[at + down] + full.Grey[at + down + right] + 2) / 4);
            }
        return (width, height, half);
    }
}
