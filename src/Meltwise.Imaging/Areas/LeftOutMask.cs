using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Areas;

/// <summary>The pixels of one picture that are left out: stretches of each row, merged, so that overlapping areas count once.</summary>
public sealed class LeftOutMask
{
    private readonly PixelBox _frame;
    private readonly Stretch[]?[] _rows;

    /// <summary>Draws the areas into the frame.</summary>
    /// <param name="areas">The areas; an area with fewer than three corners covers nothing.</param>
    /// <param name="frame">The frame; what lies outside of it is not counted.</param>
    public LeftOutMask(IReadOnlyList<LeftOutArea> areas, PixelBox frame)
    {
        ArgumentNullException.ThrowIfNull(areas);
        (_frame, _rows) = (frame, new Stretch[]?[frame.Height]);
        foreach (LeftOutArea area in areas) Draw(area.Corners);
        for (int y = 0; y < _rows.Length; y++)
            if (_rows[y] is { } row) Pixels += (_rows[y] = Merged(row)).Sum(s => (long)s.To - s.From);
    }

    /// <summary>Number of pixels left out.</summary>
    public long Pixels { get; }

    /// <summary>Whether a pixel is left out.</summary>
    public bool Contains(int x, int y) => Touches(y, x, x + 1);

    /// <summary>Whether any pixel of columns <paramref name="from"/> to <paramref name="to"/> - 1 of a row is left out.</summary>
    public bool Touches(int y, int from, int to)
    {
        if (y < _frame.Y || y >= _frame.Bottom || _rows[y - _frame.Y] is not { } row) return false;
        foreach (Stretch s in row)
            if (s.From < to && from < s.To) return true;
        return false;
    }

    /// <summary>Whether any pixel of a box is left out.</summary>
    public bool Touches(PixelBox box)
    {
        if (Pixels == 0) return false;
        for (int y = box.Y; y < box.Bottom; y++)
            if (Touches(y, box.X, box.Right)) return true;
        return false;
    }

    /// <summary>Number of pixels of a box that are left out.</summary>
    public long PixelsIn(PixelBox box)
    {
        if (Pixels == 0) return 0;
        long count = 0;
        PixelBox part = box.Intersect(_frame);
        for (int y = part.Y; y < part.Bottom; y++)
            foreach (Stretch s in _rows[y - _frame.Y] ?? []) count += Math.Max(0, Math.Min(s.To, part.Right) - Math.Max(s.From, part.X));
        return count;
    }

    /// <summary>Sets the pixels left out of a window to one level.</summary>
    internal void Fill(float[] plane, PixelBox window, float level)
    {
        if (Pixels == 0) return;
        PixelBox part = window.Intersect(_frame);
        for (int y = part.Y; y < part.Bottom; y++)
            foreach (Stretch s in _rows[y - _frame.Y] ?? [])
            {
                int from = Math.Max(s.From, part.X), to = Math.Min(s.To, part.Right);
                if (from < to) plane.AsSpan((y - window.Y) * window.Width + from - window.X, to - from).Fill(level);
            }
    }

    private void Draw(IReadOnlyList<PixelPoint> corners)
    {
        if (corners.Count < 3) return;
        int top = Math.Max(_frame.Y, (int)Math.Ceiling(corners.Min(c => c.Y) - 0.5)), bottom = Math.Min(_frame.Bottom, (int)Math.Ceiling(corners.Max(c => c.Y) - 0.5));
        List<double> crossings = [];
        for (int y = top; y < bottom; y++)
        {
            crossings.Clear();
            for (int i = 0; i < corners.Count; i++) Cross(corners[i], corners[(i + 1) % corners.Count], y + 0.5, crossings);
            crossings.Sort();
            for (int k = 0; k + 1 < crossings.Count; k += 2) Add(y - _frame.Y, FirstPixel(crossings[k]), FirstPixel(crossings[k + 1]));
        }
    }

    private static void Cross(PixelPoint a, PixelPoint b, double middle, List<double> crossings)
    {
        if (a.Y <= middle != b.Y <= middle) crossings.Add(a.X + (middle - a.Y) / (b.Y - a.Y) * (b.X - a.X));
    }

    /// <summary>First column whose middle lies at or right of a place.</summary>
    private static int FirstPixel(double x) => (int)Math.Ceiling(Math.Clamp(x, -1e9, 1e9) - 0.5);

    private void Add(int row, int from, int to)
    {
        (from, to) = (Math.Max(from, _frame.X), Math.Min(to, _frame.Right));
        if (from < to) _rows[row] = [.. _rows[row] ?? [], new(from, to)];
    }

    private static Stretch[] Merged(Stretch[] row)
    {
        if (row.Length == 1) return row;
        List<Stretch> merged = [];
        foreach (Stretch s in row.OrderBy(s => s.From))
            if (merged.Count > 0 && s.From <= merged[^1].To) merged[^1] = merged[^1] with { To = Math.Max(merged[^1].To, s.To) };
            else merged.Add(s);
        return [.. merged];
    }

    private readonly record struct Stretch(int From, int To);
}
