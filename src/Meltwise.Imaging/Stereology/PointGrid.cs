namespace Meltwise.Imaging.Stereology;

/// <summary>Points sorted into square cells, so that near neighbours are found without looking at all points.</summary>
internal sealed class PointGrid
{
    private readonly IReadOnlyList<double> _x, _y;
    private readonly int _columns, _rows;
    private readonly double _cell;
    private readonly int[] _start, _points;

    public PointGrid(IReadOnlyList<double> x, IReadOnlyList<double> y, double width, double height, double cell)
    {
        (_x, _y, _cell) = (x, y, Math.Max(cell, Math.Max(width, height) / 4096));
        _columns = Math.Max(1, (int)Math.Ceiling(width / _cell));
        _rows = Math.Max(1, (int)Math.Ceiling(height / _cell));
        _start = new int[_columns * _rows + 1];
        int[] cells = new int[x.Count];
        for (int i = 0; i < x.Count; i++) _start[(cells[i] = Cell(x[i], y[i])) + 1]++;
        for (int c = 0; c < _columns * _rows; c++) _start[c + 1] += _start[c];
        _points = new int[x.Count];
        int[] next = [.. _start];
        for (int i = 0; i < x.Count; i++) _points[next[cells[i]]++] = i;
    }

    /// <summary>Distance of each point to the nearest other point.</summary>
    public static double[] NearestDistances(IReadOnlyList<double> x, IReadOnlyList<double> y, double width, double height)
    {
        PointGrid grid = new(x, y, width, height, Math.Sqrt(width * height / Math.Max(1, x.Count)));
        var distances = new double[x.Count];
        Parallel.For(0, x.Count, Segmentation.RowBands.Workers(), i => distances[i] = grid.Nearest(i));
        return distances;
    }

    /// <summary>Calls <paramref name="found"/> with each other point within a distance of a point, and its distance.</summary>
    public void Within(int point, double reach, Action<int, double> found)
    {
        int ring = (int)Math.Ceiling(reach / _cell);
        (int column, int row) = Place(_x[point], _y[point]);
        for (int r = Math.Max(0, row - ring); r <= Math.Min(_rows - 1, row + ring); r++)
            for (int c = Math.Max(0, column - ring); c <= Math.Min(_columns - 1, column + ring); c++)
                for (int k = _start[r * _columns + c]; k < _start[r * _columns + c + 1]; k++)
                    if (_points[k] != point && Distance(point, _points[k]) is var d && d <= reach) found(_points[k], d);
    }

    private double Nearest(int point)
    {
        (int column, int row) = Place(_x[point], _y[point]);
        double nearest = double.PositiveInfinity;
        for (int ring = 0; ring <= Math.Max(_columns, _rows); ring++)
        {
            // Every point of a farther ring is at least (ring - 1) cells away.
            if (nearest <= (ring - 1) * _cell) break;
            for (int r = row - ring; r <= row + ring; r++)
            {
                if (r < 0 || r >= _rows) continue;
                int step = Math.Abs(r - row) == ring || ring == 0 ? 1 : 2 * ring;
                for (int c = column - ring; c <= column + ring; c += step)
                    if (c >= 0 && c < _columns) nearest = Math.Min(nearest, NearestIn(r * _columns + c, point));
            }
        }
        return nearest;
    }

    private double NearestIn(int cell, int point)
    {
        double nearest = double.PositiveInfinity;
        for (int k = _start[cell]; k < _start[cell + 1]; k++)
            if (_points[k] != point) nearest = Math.Min(nearest, Distance(point, _points[k]));
        return nearest;
    }

    private double Distance(int a, int b) => Math.Sqrt((_x[a] - _x[b]) * (_x[a] - _x[b]) + (_y[a] - _y[b]) * (_y[a] - _y[b]));

    private (int Column, int Row) Place(double x, double y) =>
        (Math.Clamp((int)(x / _cell), 0, _columns - 1), Math.Clamp((int)(y / _cell), 0, _rows - 1));

    private int Cell(double x, double y) => Place(x, y) is var (c, r) ? r * _columns + c : 0;
}
