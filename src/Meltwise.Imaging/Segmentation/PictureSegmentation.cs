using System.Collections.Concurrent;
using System.Globalization;
using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Segmentation;

/// <summary>Takes the particles out of a picture, whole or tile by tile.</summary>
/// <remarks>
/// <para><b>Rule.</b> Levels are decided once for the whole picture (<see cref="SegmentationPlan"/>). Each tile is read with a margin; a region belongs to the tile that holds its first pixel in raster order,
/// and when it reaches the end of the margin the tile is read again with twice the margin. So no particle is cut or counted twice, and the result is the same for any tile size and any number of threads.</para>
/// <para><b>Limits.</b> A region wider than <see cref="MaxWindowPixels"/> allows is measured as far as it was seen, marked as cut, and noted.</para>
/// </remarks>
public static class PictureSegmentation
{
    /// <summary>Pixels of the largest window held in memory.</summary>
    public const long MaxWindowPixels = 64_000_000;

    private const int DefaultTile = 4096, FirstMargin = 128;

    /// <summary>Segments and measures a picture by a plan.</summary>
    /// <param name="source">The picture.</param>
    /// <param name="plan">The plan made for it.</param>
    /// <param name="keepMasks">Whether each particle keeps its pixels.</param>
    /// <param name="tile">Side of a tile in pixels; 0 for the whole picture at once where it fits, else tiles.</param>
    /// <param name="progress">Told the share done, 0 to 1.</param>
    /// <param name="cancel">Stops the work.</param>
    public static SegmentedPicture Run(GreySource source, SegmentationPlan plan, bool keepMasks = false, int tile = 0, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(source);
        ArgumentNullException.ThrowIfNull(plan);
        PixelBox frame = plan.Inspected;
        if (tile <= 0) tile = frame.Area <= MaxWindowPixels ? Math.Max(frame.Width, frame.Height) : DefaultTile;
        List<Particle> particles = [];
        List<string> notes = [];
        double reported = 0;
        // A tile read again with a wider margin would go back.
        void Report(double share)
        {
            if (share > reported) progress?.Report(reported = share);
        }
        int across = (frame.Width + tile - 1) / tile, down = (frame.Height + tile - 1) / tile;
        for (int t = 0; t < across * down; t++)
        {
            cancel.ThrowIfCancellationRequested();
            PixelBox core = new PixelBox(frame.X + t % across * tile, frame.Y + t / across * tile, tile, tile).Intersect(frame);
            double before = t;
            particles.AddRange(Tile(source, plan, core, keepMasks, notes, s => Report((before + s) / (across * down)), cancel));
        }
        if (plan.Settings.RemoveScratches) ScratchRule.Remove(particles, notes);
        particles = GreyClassRule.Assign(particles, plan.Settings.GreyClasses);
        return new SegmentedPicture(plan, [.. particles.OrderBy(p => p.Box.Y).ThenBy(p => p.Box.X).ThenBy(p => p.Y).ThenBy(p => p.X).Select((p, i) => p with { Number = i + 1 })], notes);
    }

    private static IEnumerable<Particle> Tile(GreySource source, SegmentationPlan plan, PixelBox core, bool keepMasks, List<string> notes, Action<double> progress, CancellationToken cancel)
    {
        for (int margin = FirstMargin; ; margin *= 2)
        {
            PixelBox window = core.Grow(margin + plan.Reach, plan.Inspected);
            bool last = window == plan.Inspected || core.Grow(2 * margin + plan.Reach, plan.Inspected).Area > MaxWindowPixels;
            (List<Particle> particles, int unfinished) = Window(source, plan, core, window, keepMasks, last, progress, cancel);
            if (unfinished == 0) return particles;
            if (!last) continue;
            notes.Add(string.Create(CultureInfo.InvariantCulture, $"{unfinished} regions were too wide to be held in memory and were measured as far as they were seen."));
            return particles;
        }
    }

    private static (List<Particle> Particles, int Unfinished) Window(GreySource source, SegmentationPlan plan, PixelBox core, PixelBox window, bool keepMasks, bool last, Action<double> progress, CancellationToken cancel)
    {
        var plane = new float[window.Area];
        source.Read(window, plane);
        plan.Prepare(plane, window, cancel);
        progress(0.3);
        // Areas left out become matrix, so that nothing is found there.
        plan.LeftOut.Fill(plane, window, (float)plan.MatrixLevel);
        RunRows rows = RunScan.Above(plane, window.Width, window.Height, (float)plan.BoundaryLevel, cancel);
        List<Run[]> regions = ConnectedRegions.Find(rows, plan.Settings.FillHoles, plan.LeastMask);
        List<Run[]> owned = [.. regions.Where(r => core.Contains(window.X + r[0].From, window.Y + r[0].Y))];
        int unfinished = owned.Count(r => ReachesMargin(r, window, plan));
        if (unfinished > 0 && !last) return ([], unfinished);
        progress(0.5);
        var measured = new List<Particle>[owned.Count];
        int done = 0;
        Lock reporting = new();
        OrderablePartitioner<Tuple<int, int>> parts = Partitioner.Create(0, Math.Max(1, owned.Count), 256);
        Parallel.ForEach(parts, RowBands.Workers(cancel), part =>
        {
            RegionMeasurement measurement = new(plane, window, plan, keepMasks);
            for (int i = part.Item1; i < Math.Min(part.Item2, owned.Count); i++)
                measured[i] = plan.Settings.HysteresisShare < 1 && !ReachesLevel(plane, window.Width, owned[i], plan) ? [] : measurement.Measure(owned[i]);
            lock (reporting) progress(0.5 + 0.5 * (done += part.Item2 - part.Item1) / Math.Max(1, owned.Count));
        });
        return ([.. measured.SelectMany(p => p)], unfinished);
    }

    private static bool ReachesMargin(Run[] region, PixelBox window, SegmentationPlan plan)
    {
        PixelBox frame = plan.Inspected;
        int reach = plan.Reach + 1;
        int left = window.X == frame.X ? -1 : reach, right = window.Right == frame.Right ? window.Width + 1 : window.Width - reach;
        int top = window.Y == frame.Y ? -1 : reach, bottom = window.Bottom == frame.Bottom ? window.Height + 1 : window.Height - reach;
        foreach (Run run in region)
            if (run.From <= left || run.To >= right || run.Y <= top || run.Y + 1 >= bottom) return true;
        return false;
    }

    private static bool ReachesLevel(float[] plane, int width, Run[] region, SegmentationPlan plan)
    {
        float level = (float)plan.Settings.Level!.Value;
        foreach (Run run in region)
            if (System.Numerics.Tensors.TensorPrimitives.Max(plane.AsSpan(run.Y * width + run.From, run.Length)) > level) return true;
        return false;
    }
}

/// <summary>The particles of a picture and how they were found.</summary>
/// <param name="Plan">Settings, levels, noise and blur.</param>
/// <param name="Particles">The particles, numbered from 1 in raster order.</param>
/// <param name="Notes">What a reader of the result must know.</param>
public sealed record SegmentedPicture(SegmentationPlan Plan, IReadOnlyList<Particle> Particles, IReadOnlyList<string> Notes)
{
    /// <summary>Inspected area in square pixels: the frame less the areas left out.</summary>
    public long InspectedPixels => Plan.Inspected.Area - Plan.LeftOut.Pixels;
}
