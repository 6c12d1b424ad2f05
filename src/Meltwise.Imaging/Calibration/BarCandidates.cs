using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging.Calibration;

/// <summary>Marks that may be a scale bar: level lines of even length, at least two rows thick, with ticks at their ends or broken by their label.</summary>
internal static class BarCandidates
{
    /// <summary>Shortest bar taken, in pixels: half a pixel at each end of a shorter one is more than 2 % of it.</summary>
    public const int LeastBar = 40;

    private const int MostRows = 40;
    private const double FullShare = 0.95, HalfLikeness = 0.7;

    /// <summary>The candidates of a map, as boxes of the line itself in pixels of the map, longest first.</summary>
    public static List<BarCandidate> Of(InkMap map)
    {
        List<BarCandidate> lines = [.. map.Marks.Select(m => Line(m, map.Area)).OfType<BarCandidate>()];
        List<BarCandidate> halves = [];
        for (int i = 0; i < lines.Count; i++)
            for (int j = 0; j < lines.Count; j++)
                if (AreHalves(lines[i].Line, lines[j].Line)) halves.Add(new(new(lines[i].Line.X, lines[i].Line.Y, lines[j].Line.Right - lines[i].Line.X, lines[i].Line.Height), [.. lines[i].Marks, .. lines[j].Marks]));
        return [.. halves.Concat(lines).Where(c => c.Line.Width >= LeastBar && c.Line.Width < FullShare * map.Area.Width).OrderByDescending(c => c.Line.Width)];
    }

    private static BarCandidate? Line(Mark mark, PixelBox area)
    {
        if (mark.Box.Width < LeastBar / 2 || mark.Box.Height > Math.Max(12, mark.Box.Width / 2)) return null;
        int longest = mark.Runs.Max(r => r.Length);
        Run[] level = [.. mark.Runs.Where(r => r.Length >= FullShare * longest)];
        int rows = level[^1].Y - level[0].Y + 1;
        // A frame has its long runs far apart; a line has them in neighbouring rows.
        if (longest < 0.9 * mark.Box.Width || level.Length < 2 || level.Length != rows || rows > Math.Min(MostRows, longest / 4)) return null;
        bool leavesMap = mark.Box.X == 0 && area.X > 0 || mark.Box.Right == area.Width;
        int from = level.Select(r => r.From).Order().ElementAt(rows / 2), to = level.Select(r => r.To).Order().ElementAt(rows / 2);
        return leavesMap ? null : new(new(from, level[0].Y, to - from, rows), [mark]);
    }

    private static bool AreHalves(PixelBox a, PixelBox b) => a.Right < b.X && Math.Abs(a.Y - b.Y) <= 1 && Math.Abs(a.Bottom - b.Bottom) <= 1
        && Math.Min(a.Width, b.Width) > HalfLikeness * Math.Max(a.Width, b.Width) && b.X - a.Right < 2 * (a.Width + b.Width);
}

/// <summary>A line that may be a scale bar.</summary>
/// <param name="Line">Its pixels: from the first to the last column, and its rows.</param>
/// <param name="Marks">The marks it is made of.</param>
internal sealed record BarCandidate(PixelBox Line, IReadOnlyList<Mark> Marks);
