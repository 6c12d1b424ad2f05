using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging.Particles;

/// <summary>Outlines of a particle along the edges of its pixels, for drawing.</summary>
public static class ParticleOutline
{
    /// <summary>Closed outlines, the particle on the right when walking (y down), holes included; only corners are given.</summary>
    /// <param name="mask">Pixels of the particle as runs, see <see cref="Particle.Mask"/>.</param>
    public static IReadOnlyList<IReadOnlyList<PixelPoint>> Of(IReadOnlyList<Run> mask)
    {
        ArgumentNullException.ThrowIfNull(mask);
        HashSet<(int X, int Y)> inside = [.. mask.SelectMany(r => Enumerable.Range(r.From, r.Length).Select(x => (x, r.Y)))];
        Dictionary<(int X, int Y), List<(int X, int Y)>> edges = [];
        foreach ((int x, int y) in inside)
        {
            if (!inside.Contains((x, y - 1))) Add((x, y), (x + 1, y));
            if (!inside.Contains((x + 1, y))) Add((x + 1, y), (x + 1, y + 1));
            if (!inside.Contains((x, y + 1))) Add((x + 1, y + 1), (x, y + 1));
            if (!inside.Contains((x - 1, y))) Add((x, y + 1), (x, y));
        }
        List<IReadOnlyList<PixelPoint>> outlines = [];
        foreach ((int X, int Y) start in edges.Keys.OrderBy(p => p.Y).ThenBy(p => p.X).ToList())
            while (edges[start].Count > 0) outlines.Add(Walk(edges, start));
        return outlines;

        void Add((int, int) from, (int, int) to)
        {
            if (!edges.TryGetValue(from, out List<(int, int)>? list)) edges[from] = list = [];
            list.Add(to);
        }
    }

    private static List<PixelPoint> Walk(Dictionary<(int X, int Y), List<(int X, int Y)>> edges, (int X, int Y) start)
    {
        List<(int X, int Y)> points = [];
        (int X, int Y) at = start;
        do
        {
            points.Add(at);
            List<(int X, int Y)> next = edges[at];
            at = next[^1];
            next.RemoveAt(next.Count - 1);
        }
        while (at != start);
        return [.. points.Where((p, i) => Turns(points[(i + points.Count - 1) % points.Count], p, points[(i + 1) % points.Count])).Select(p => new PixelPoint(p.X, p.Y))];
    }

    private static bool Turns((int X, int Y) a, (int X, int Y) b, (int X, int Y) c) => (b.X - a.X) * (c.Y - b.Y) != (b.Y - a.Y) * (c.X - b.X);
}
