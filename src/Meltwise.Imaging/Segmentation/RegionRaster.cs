using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Segmentation;

/// <summary>One connected region drawn into a box with a margin of a pixel, with room for distances and pieces. Reused from region to region, so that the loop over regions does not allocate.</summary>
internal sealed class RegionRaster
{
    private PixelBox _window;

    /// <summary>Box of the raster within the window.</summary>
    public PixelBox Box { get; private set; }

    /// <summary>1 for pixels of the region, 0 for background.</summary>
    public byte[] Inside { get; private set; } = new byte[256];

    /// <summary>Squared distance to the background; filled by <see cref="WatershedSplit"/>.</summary>
    public long[] Squared { get; private set; } = new long[256];

    /// <summary>Piece of each pixel, from 1; 0 for background.</summary>
    public int[] Piece { get; private set; } = new int[256];

    /// <summary>Sorting keys; see <see cref="WatershedSplit"/>.</summary>
    public long[] Order { get; private set; } = new long[256];

    /// <summary>Pixels from a place of the raster to the nearest edge of the window, where the region may go on unseen.</summary>
    public int ToWindowEdge(int x, int y)
    {
        x += Box.X;
        y += Box.Y;
        return 1 + Math.Min(Math.Min(x, y), Math.Min(_window.Width - 1 - x, _window.Height - 1 - y));
    }

    public int Width => Box.Width;
    public int Height => Box.Height;

    /// <summary>Draws a region; everything is piece 1.</summary>
    public void Draw(Run[] region, PixelBox window)
    {
        _window = window;
        int left = int.MaxValue, right = 0;
        foreach (Run run in region)
        {
            left = Math.Min(left, run.From);
            right = Math.Max(right, run.To);
        }
        Box = new PixelBox(left, region[0].Y, right - left, region[^1].Y - region[0].Y + 1).Grow(1, new PixelBox(0, 0, window.Width, window.Height));
        int size = checked((int)Box.Area);
        if (Inside.Length < size)
        {
            int room = Math.Max(size, 2 * Inside.Length);
            (Inside, Squared, Piece, Order) = (new byte[room], new long[room], new int[room], new long[room]);
        }
        Inside.AsSpan(0, size).Clear();
        Piece.AsSpan(0, size).Clear();
        foreach (Run run in region)
        {
            int at = (run.Y - Box.Y) * Width + run.From - Box.X;
            Inside.AsSpan(at, run.Length).Fill(1);
            Piece.AsSpan(at, run.Length).Fill(1);
        }
    }
}
