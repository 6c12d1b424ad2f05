namespace Meltwise.Imaging.Reading;

/// <summary>A grey picture that can be read window by window, so that a picture larger than memory is measured the same way as a small one.</summary>
/// <remarks>Grey levels are in 8-bit steps: 0 to 255 for an 8-bit picture; a 16-bit level is divided by 257. No resampling: one value a pixel of the file.</remarks>
public abstract class GreySource : IDisposable
{
    /// <summary>Width in pixels.</summary>
    public abstract int Width { get; }

    /// <summary>Height in pixels.</summary>
    public abstract int Height { get; }

    /// <summary>Copies a window of the picture, row by row, into <paramref name="grey"/>.</summary>
    /// <param name="window">The window; must lie inside the picture.</param>
    /// <param name="grey">At least window width times height values.</param>
    public abstract void Read(PixelBox window, Span<float> grey);

    /// <summary>The whole frame.</summary>
    public PixelBox Frame => new(0, 0, Width, Height);

    /// <inheritdoc/>
    public void Dispose()
    {
        Dispose(true);
        GC.SuppressFinalize(this);
    }

    /// <summary>Frees the file where there is one.</summary>
    protected virtual void Dispose(bool disposing) { }
}

/// <summary>A rectangle of pixels: columns X to X + Width - 1, rows Y to Y + Height - 1.</summary>
/// <param name="X">First column.</param>
/// <param name="Y">First row.</param>
/// <param name="Width">Columns.</param>
/// <param name="Height">Rows.</param>
public readonly record struct PixelBox(int X, int Y, int Width, int Height)
{
    /// <summary>Number of pixels.</summary>
    public long Area => (long)Width * Height;

    /// <summary>One past the last column.</summary>
    public int Right => X + Width;

    /// <summary>One past the last row.</summary>
    public int Bottom => Y + Height;

    /// <summary>Whether the pixel lies in the box.</summary>
    public bool Contains(int x, int y) => x >= X && x < Right && y >= Y && y < Bottom;

    /// <summary>The part common to both; empty (zero width or height) when they do not meet.</summary>
    public PixelBox Intersect(PixelBox other)
    {
        int x = Math.Max(X, other.X), y = Math.Max(Y, other.Y);
        return new(x, y, Math.Max(0, Math.Min(Right, other.Right) - x), Math.Max(0, Math.Min(Bottom, other.Bottom) - y));
    }

    /// <summary>Grown by <paramref name="margin"/> on every side and clipped to <paramref name="frame"/>.</summary>
    public PixelBox Grow(int margin, PixelBox frame) =>
        new PixelBox(X - margin, Y - margin, Width + 2 * margin, Height + 2 * margin).Intersect(frame);
}
