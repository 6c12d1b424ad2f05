namespace Meltwise.Imaging.Particles;

/// <summary>Convex hull of the pixels of a particle (pixel corners included) and its largest and smallest width.</summary>
/// <remarks>
/// <para><b>Formula.</b> Monotone chain over the row ends; the largest width is the largest distance between two corners of the hull, the smallest is the least distance between an edge and the corner farthest from it.</para>
/// <para><b>Limits.</b> Corners of pixels are used, so a single pixel has the widths √2 and 1.</para>
/// <para><b>Source.</b> A. M. Andrew, Information Processing Letters 9 (1979) 216-219 for the hull; maximum and minimum Feret diameter as in ISO 13322-1.</para>
/// </remarks>
internal sealed class ConvexOutline
{
    private readonly List<(int X, int Y)> _points = [], _hull = [];

    /// <summary>Forgets the last particle.</summary>
    public void Clear() => _points.Clear();

    /// <summary>Adds the pixels from <paramref name="from"/> to <paramref name="to"/> - 1 of a row. Rows must come from the top down.</summary>
    public void AddRow(int y, int from, int to)
    {
        _points.Add((from, y));
        _points.Add((to, y));
        _points.Add((from, y + 1));
        _points.Add((to, y + 1));
    }

    /// <summary>Largest and smallest width in pixels.</summary>
    public (double Max, double Min) Widths()
    {
        Build();
        double largest = 0, smallest = double.PositiveInfinity;
        for (int i = 0; i < _hull.Count; i++)
        {
            (int X, int Y) a = _hull[i], b = _hull[(i + 1) % _hull.Count];
            double length = Math.Sqrt(Square(a, b)), farthest = 0;
            for (int j = 0; j < _hull.Count; j++)
            {
                largest = Math.Max(largest, Square(a, _hull[j]));
                farthest = Math.Max(farthest, Math.Abs(Cross(a, b, _hull[j])) / length);
            }
            smallest = Math.Min(smallest, farthest);
        }
        return (Math.Sqrt(largest), smallest);
    }

    /// <summary>Area of the hull in square pixels.</summary>
    public double Area()
    {
        Build();
        double twice = 0;
        for (int i = 1; i + 1 < _hull.Count; i++) twice += Cross(_hull[0], _hull[i], _hull[i + 1]);
        return 0.5 * twice;
    }

    private void Build()
    {
        _points.Sort();
        _hull.Clear();
        for (int pass = 0; pass < 2; pass++)
        {
            int start = _hull.Count;
            for (int k = 0; k < _points.Count; k++)
            {
                (int X, int Y) p = pass == 0 ? _points[k] : _points[_points.Count - 1 - k];
                while (_hull.Count >= start + 2 && Cross(_hull[^2], _hull[^1], p) <= 0) _hull.RemoveAt(_hull.Count - 1);
                _hull.Add(p);
            }
            _hull.RemoveAt(_hull.Count - 1);
        }
    }

    private static double Square((int X, int Y) a, (int X, int Y) b) => (double)(a.X - b.X) * (a.X - b.X) + (double)(a.Y - b.Y) * (a.Y - b.Y);

    private static double Cross((int X, int Y) o, (int X, int Y) a, (int X, int Y) b) => (double)(a.X - o.X) * (b.Y - o.Y) - (double)(a.Y - o.Y) * (b.X - o.X);
}
