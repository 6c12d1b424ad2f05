using System.Globalization;

namespace Meltwise.Imaging.Reading;

/// <summary>A grey picture held in memory.</summary>
public sealed class GreyPicture : GreySource
{
    private readonly float[] _grey;

    /// <summary>Wraps grey levels in 8-bit steps (0 to 255), row by row.</summary>
    /// <param name="width">Width in pixels.</param>
    /// <param name="height">Height in pixels.</param>
    /// <param name="grey">width times height levels; kept, not copied.</param>
    /// <exception cref="ArgumentException">The number of levels does not fit the size, or the size is empty.</exception>
    public GreyPicture(int width, int height, float[] grey)
    {
        ArgumentNullException.ThrowIfNull(grey);
        if (width < 1 || height < 1 || grey.Length != (long)width * height)
            throw new ArgumentException(string.Create(CultureInfo.InvariantCulture,
                $"A picture of {width} x {height} pixels needs {(long)width * height} grey levels; got {grey.Length}."), nameof(grey));
        (Width, Height, _grey) = (width, height, grey);
    }

    /// <inheritdoc/>
    public override int Width { get; }

    /// <inheritdoc/>
    public override int Height { get; }

    /// <summary>Grey levels in 8-bit steps, row by row.</summary>
    public ReadOnlySpan<float> Grey => _grey;

    /// <summary>Grey level of a pixel, in 8-bit steps.</summary>
    public float this[int x, int y] => _grey[y * Width + x];

    /// <inheritdoc/>
    public override void Read(PixelBox window, Span<float> grey)
    {
        for (int row = 0; row < window.Height; row++)
            _grey.AsSpan((window.Y + row) * Width + window.X, window.Width).CopyTo(grey[(row * window.Width)..]);
    }

    /// <summary>The picture turned a quarter turn clockwise.</summary>
    public GreyPicture QuarterTurn()
    {
        var turned = new float[_grey.Length];
        for (int y = 0; y < Height; y++)
            for (int x = 0; x < Width; x++)
                turned[x * Height + (Height - 1 - y)] = _grey[y * Width + x];
        return new GreyPicture(Height, Width, turned);
    }
}
