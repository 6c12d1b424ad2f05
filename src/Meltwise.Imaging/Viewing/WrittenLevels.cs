using Meltwise.Imaging.Reading;
using NetVips;

namespace Meltwise.Imaging.Viewing;

/// <summary>Levels of a very large picture in a tiled file, made once; only the tiles asked for are read.</summary>
internal sealed class WrittenLevels : IDisplayLevels
{
    private readonly List<Image> _levels = [];
    private readonly Lock _gate = new();

    public WrittenLevels(TiledPictureFile picture, (double Black, double White) range, string file, IProgress<double>? progress, CancellationToken cancel)
    {
        if (!File.Exists(file)) Write(picture, range, file, progress, cancel);
        using Image first = Image.NewFromFile(file);
        int count = first.Contains("n-pages") ? Convert.ToInt32(first.Get("n-pages"), System.Globalization.CultureInfo.InvariantCulture) : 1;
        for (int level = 0; level < count; level++) _levels.Add(Image.NewFromFile(file, access: Enums.Access.Random, kwargs: new VOption { ["page"] = level }));
    }

    public (int Width, int Height) Size(int level) => (_levels[level].Width, _levels[level].Height);

    public byte[] Png(int level, PixelBox box)
    {
        lock (_gate)
        {
            using Image crop = _levels[level].Crop(box.X, box.Y, box.Width, box.Height);
            return crop.PngsaveBuffer(compression: 3);
        }
    }

    public void Dispose()
    {
        foreach (Image level in _levels) level.Dispose();
    }

    private static void Write(TiledPictureFile picture, (double Black, double White) range, string file, IProgress<double>? progress, CancellationToken cancel)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(file)!);
        string unfinished = $"{file}.{Guid.NewGuid():N}.part.tif";
        try
        {
            cancel.ThrowIfCancellationRequested();
            picture.WriteLevels(unfinished, PictureTiles.TileSide, range, progress, cancel);
            File.Move(unfinished, file, overwrite: true);
        }
        catch (VipsException) when (cancel.IsCancellationRequested)
        {
            throw new OperationCanceledException(cancel);
        }
        finally
        {
            File.Delete(unfinished);
        }
    }
}
