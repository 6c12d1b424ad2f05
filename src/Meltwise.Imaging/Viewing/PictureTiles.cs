using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Viewing;

/// <summary>Gives a picture of any size to a viewer, tile by tile at halving levels, in bounded memory.</summary>
/// <remarks>
/// <para><b>Levels.</b> Level 0 is the picture itself; each next level has half the width and height, a pixel being the mean of four; the last fits in one tile. Tiles at the right and lower edge are smaller.</para>
/// <para><b>Memory.</b> A picture up to <see cref="PictureLimits.MaxWholePixels"/> is held as one byte a pixel and a third more; of a larger one the levels are written once to a file beside it, and only the tile asked for is read.</para>
/// <para><b>Shown.</b> Grey. Of 8 bits as it is; of 16 bits stretched from <see cref="Black"/> to <see cref="White"/>, the levels that 0.1 % of the pixels lie below and above. Measuring never uses the stretched levels.</para>
/// </remarks>
public sealed class PictureTiles : IDisposable
{
    /// <summary>Side of a tile in pixels.</summary>
    public const int TileSide = 256;

    private readonly IDisplayLevels _levels;

    private PictureTiles(MicrographFile file, IDisplayLevels levels, (double Black, double White) range)
    {
        (_levels, Width, Height, Sha256, Metadata) = (levels, file.Grey.Width, file.Grey.Height, file.Sha256, file.Metadata);
        (Black, White) = range;
        Levels = LevelCount(Width, Height);
    }

    /// <summary>Width of the picture in pixels.</summary>
    public int Width { get; }

    /// <summary>Height of the picture in pixels.</summary>
    public int Height { get; }

    /// <summary>Number of levels.</summary>
    public int Levels { get; }

    /// <summary>SHA-256 of the file.</summary>
    public string Sha256 { get; }

    /// <summary>What the file says of itself.</summary>
    public PictureMetadata Metadata { get; }

    /// <summary>Grey level shown as black, in 8-bit steps.</summary>
    public double Black { get; }

    /// <summary>Grey level shown as white, in 8-bit steps.</summary>
    public double White { get; }

    /// <summary>Opens a picture for viewing; of a very large one the levels are made first, which reads it once.</summary>
    /// <param name="path">The picture.</param>
    /// <param name="levelsFolder">Folder for the levels of a very large picture, kept by its digest for the next time.</param>
    /// <param name="page">Page of a multi-page file, from 0.</param>
    /// <param name="limits">What the file may claim.</param>
    /// <param name="progress">Told the share of the levels made, 0 to 1.</param>
    /// <param name="cancel">Stops making them.</param>
    /// <exception cref="UnreadablePictureException">The file is not a readable picture.</exception>
    public static PictureTiles Open(string path, string levelsFolder, int page = 0, PictureLimits? limits = null, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        ArgumentException.ThrowIfNullOrEmpty(levelsFolder);
        using MicrographFile file = PictureReader.Open(path, page, limits);
        (double Black, double White) range = file.Metadata.BitsPerSample == 8 ? (0, 255) : DisplayRange(file.Grey);
        IDisplayLevels levels = file.Grey is GreyPicture picture ? new HeldLevels(picture, range, LevelCount(picture.Width, picture.Height))
            : new WrittenLevels((TiledPictureFile)file.Grey, range, Path.Combine(levelsFolder, $"{file.Sha256}-{page}.levels.tif"), progress, cancel);
        return new(file, levels, range);
    }

    /// <summary>Size of a level in pixels.</summary>
    /// <param name="level">The level, from 0.</param>
    public (int Width, int Height) Size(int level)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(level);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(level, Levels);
        return _levels.Size(level);
    }

    /// <summary>Columns and rows of tiles of a level.</summary>
    /// <param name="level">The level, from 0.</param>
    public (int Columns, int Rows) Tiles(int level)
    {
        (int width, int height) = Size(level);
        return ((width + TileSide - 1) / TileSide, (height + TileSide - 1) / TileSide);
    }

    /// <summary>One tile as a grey PNG, or null when there is no such tile. Safe to call from several threads.</summary>
    /// <param name="level">The level, from 0.</param>
    /// <param name="column">Column of tiles.</param>
    /// <param name="row">Row of tiles.</param>
    public byte[]? Png(int level, int column, int row)
    {
        if (level < 0 || level >= Levels || column < 0 || row < 0) return null;
        (int columns, int rows) = Tiles(level);
        if (column >= columns || row >= rows) return null;
        (int width, int height) = Size(level);
        return _levels.Png(level, new PixelBox(column * TileSide, row * TileSide, TileSide, TileSide).Intersect(new(0, 0, width, height)));
    }

    /// <inheritdoc/>
    public void Dispose() => _levels.Dispose();

    private static int LevelCount(int width, int height)
    {
        int levels = 1;
        for (; width > TileSide || height > TileSide; levels++) (width, height) = (Math.Max(1, width / 2), Math.Max(1, height / 2));
        return levels;
    }

    private static (double Black, double White) DisplayRange(GreySource grey)
    {
        const int rows = 200;
        var line = new float[grey.Width];
        List<float> levels = [];
        for (int k = 0; k < Math.Min(rows, grey.Height); k++)
        {
            grey.Read(new PixelBox(0, (int)((k + 0.5) * grey.Height / Math.Min(rows, grey.Height)), grey.Width, 1), line);
            for (int x = 0; x < line.Length; x += Math.Max(1, line.Length / 1000)) levels.Add(line[x]);
        }
        levels.Sort();
        float black = levels[(int)(0.001 * levels.Count)], white = levels[(int)(0.999 * (levels.Count - 1))];
        return white > black ? (black, white) : (0, 255);
    }
}

/// <summary>The halving levels of a picture, ready to be shown.</summary>
internal interface IDisplayLevels : IDisposable
{
    (int Width, int Height) Size(int level);

    byte[] Png(int level, PixelBox box);
}
