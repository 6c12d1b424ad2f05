using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging.Calibration;

/// <summary>Part of a picture as ink on ground, 0 to 1, with its connected marks: letters, bars, frames.</summary>
internal sealed class InkMap
{
    private InkMap(PixelBox area, float[] ink)
    {
        (Area, Ink) = (area, ink);
        RunRows rows = RunScan.Above(ink, area.Width, area.Height, 0.5f, CancellationToken.None);
        Marks = [.. ConnectedRegions.Find(rows, fillHoles: false, leastArea: 2).Select(r => new Mark(r))];
    }

    /// <summary>Where the map lies in the picture.</summary>
    public PixelBox Area { get; }

    /// <summary>Ink of each pixel, row by row.</summary>
    public float[] Ink { get; }

    /// <summary>Connected marks, in raster order.</summary>
    public IReadOnlyList<Mark> Marks { get; }

    /// <summary>Ink is whatever differs from the ground, the most different being full ink: for a strip or a box of one level.</summary>
    public static InkMap OnGround(GreyPicture picture, PixelBox area, float ground)
    {
        float[] ink = Levels(picture, area);
        for (int i = 0; i < ink.Length; i++) ink[i] = Math.Abs(ink[i] - ground);
        float[] sorted = [.. ink.Order()];
        float full = Math.Max(40, sorted[(int)(0.995 * (sorted.Length - 1))]);
        for (int i = 0; i < ink.Length; i++) ink[i] = Math.Min(1, ink[i] / full);
        return new(area, ink);
    }

    /// <summary>Ink is what has one level, fading over <paramref name="fade"/> grey levels: for a bar drawn on the picture itself.</summary>
    public static InkMap OfLevel(GreyPicture picture, PixelBox area, float level, float fade)
    {
        float[] ink = Levels(picture, area);
        for (int i = 0; i < ink.Length; i++) ink[i] = Math.Max(0, 1 - Math.Abs(ink[i] - level) / fade);
        return new(area, ink);
    }

    private static float[] Levels(GreyPicture picture, PixelBox area)
    {
        var levels = new float[area.Area];
        picture.Read(area, levels);
        return levels;
    }
}

/// <summary>A connected piece of ink, in pixels of its map.</summary>
internal sealed class Mark
{
    public Mark(Run[] runs)
    {
        Runs = runs;
        int left = runs.Min(r => r.From), right = runs.Max(r => r.To);
        Box = new(left, runs[0].Y, right - left, runs[^1].Y - runs[0].Y + 1);
        Pixels = runs.Sum(r => r.Length);
    }

    public Run[] Runs { get; }
    public PixelBox Box { get; }
    public int Pixels { get; }
}
