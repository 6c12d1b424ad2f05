using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Segmentation;

/// <summary>One connected region drawn into a box with a margin of a pixel, with room for distances and pieces. Reused from region to region, so that the loop over regions does not allocate.</summary>
internal sealed class RegionRaster
{
    private PixelBox _window;

    /// <summary>Box of the raster within the window.</summary>
    public PixelBox Box { get; private set; }

    /// <summary>A pixel above the threshold.</summary>
    public const byte Body = 1;

    /// <summary>A pixel of a filled hole.</summary>
    public const byte Hole = 2;

    /// <summary><see cref="Body"/>, <see cref="Hole"/>, or 0 for background.</summary>
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

    /// <summary>Whether the region has filled holes.</summary>
    public bool HasHoles { get; private set; }

    /// <summary>Area of the region over the area of its convex hull.</summary>
    public double Solidity { get; private set; }

    /// <summary>Makes holes part of the body.</summary>
    public void CloseHoles() => Inside.AsSpan(0, (int)Box.Area).Replace(Hole, Body);

    /// <summary>Gives each hole pixel to a piece beside it, ring by ring from the rim inwards.</summary>
    public void ShareHoles()
    {
        if (!HasHoles) return;
        int size = (int)Box.Area;
        List<(int At, int Piece)> taken = [];
        do
        {
            taken.Clear();
            for (int i = 0; i < size; i++)
                if (Inside[i] == Hole && Piece[i] == 0 && Beside(i) is var piece and > 0) taken.Add((i, piece));
            foreach ((int at, int piece) in taken) Piece[at] = piece;
        }
        while (taken.Count > 0);
    }

    private int Beside(int i)
    {
        int x = i % Width, size = (int)Box.Area;
        if (x > 0 && Piece[i - 1] > 0) return Piece[i - 1];
        if (x < Width - 1 && Piece[i + 1] > 0) return Piece[i + 1];
        if (i >= Width && Piece[i - Width] > 0) return Piece[i - Width];
        return i + Width < size ? Piece[i + Width] : 0;
    }

    /// <summary>Draws a region; everything is piece 1. Pixels at or below the level are filled holes.</summary>
    public void Draw(Run[] region, PixelBox window, ReadOnlySpan<float> plane, float level)
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
            ReadOnlySpan<float> grey = plane.Slice(run.Y * window.Width + run.From, run.Length);
            for (int k = 0; k < grey.Length; k++) Inside[at + k] = grey[k] > level ? Body : Hole;
            Piece.AsSpan(at, run.Length).Fill(1);
        }
        HasHoles = Inside.AsSpan(0, size).Contains(Hole);
        if (HasHoles) Solidity = SolidityOf(region);
    }

    private static double SolidityOf(Run[] region)
    {
        ConvexOutline outline = new();
        foreach (Run run in region) outline.AddRow(run.Y, run.From, run.To);
        return region.Sum(r => (double)r.Length) / outline.Area();
    }
}
