using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>A picture drawn from shapes of known place, size and level: each pixel holds the mean over its 4 x 4 sub-pixels, so edges are as sharp as pixels allow.</summary>
internal sealed class DrawnShapes
{
    private const int Sub = 4;
    private readonly float[] _grey;
    private readonly int _side;

    /// <summary>A square picture of a matrix whose level is given at each column.</summary>
    public DrawnShapes(int side, Func<int, double> matrix, double noise = 0)
    {
        Random random = new(7);
        (_side, _grey) = (side, new float[side * side]);
        for (int i = 0; i < _grey.Length; i++)
        {
            // The sum of twelve even numbers less six is near enough a normal number of SD 1.
            double normal = noise > 0 ? Enumerable.Range(0, 12).Sum(_ => random.NextDouble()) - 6 : 0;
            _grey[i] = (float)(matrix(i % side) + noise * normal);
        }
    }

    /// <summary>Share of the picture that shapes cover; shapes drawn over each other count twice.</summary>
    public double Share { get; private set; }

    /// <summary>Adds a disc of a height above the matrix (below it when negative).</summary>
    public void Disc(double x, double y, double radius, double height) =>
        Draw(x - radius, y - radius, x + radius, y + radius, height, (px, py) => (px - x) * (px - x) + (py - y) * (py - y) <= radius * radius);

    /// <summary>Adds a straight bar from one point to another.</summary>
    public void Bar(double x0, double y0, double x1, double y1, double width, double height)
    {
        double length = Math.Sqrt((x1 - x0) * (x1 - x0) + (y1 - y0) * (y1 - y0)), ux = (x1 - x0) / length, uy = (y1 - y0) / length;
        Draw(Math.Min(x0, x1) - width, Math.Min(y0, y1) - width, Math.Max(x0, x1) + width, Math.Max(y0, y1) + width, height, (px, py) =>
        {
            double along = (px - x0) * ux + (py - y0) * uy, off = (py - y0) * ux - (px - x0) * uy;
            return along >= 0 && along <= length && Math.Abs(off) <= width / 2;
        });
    }

    /// <summary>Adds half a ring above its centre.</summary>
    public void Arc(double x, double y, double radius, double width, double height) =>
        Draw(x - radius - width, y - radius - width, x + radius + width, y, height, (px, py) => py <= y && Math.Abs(Math.Sqrt((px - x) * (px - x) + (py - y) * (py - y)) - radius) <= width / 2);

    /// <summary>The particles found with given settings.</summary>
    public SegmentedPicture Found(SegmentationSettings settings)
    {
        GreyPicture picture = new(_side, _side, [.. _grey]);
        SegmentationPlan plan = SegmentationPlan.For(picture, picture.Frame, settings, TestContext.Current.CancellationToken);
        return PictureSegmentation.Run(picture, plan, cancel: TestContext.Current.CancellationToken);
    }

    /// <summary>The particle nearest to a point.</summary>
    public static Particle Nearest(SegmentedPicture found, double x, double y) => found.Particles.MinBy(p => (p.X - x) * (p.X - x) + (p.Y - y) * (p.Y - y))!;

    private void Draw(double x0, double y0, double x1, double y1, double height, Func<double, double, bool> covers)
    {
        for (int py = Math.Max(0, (int)y0 - 1); py <= Math.Min(_side - 1, (int)y1 + 1); py++)
            for (int px = Math.Max(0, (int)x0 - 1); px <= Math.Min(_side - 1, (int)x1 + 1); px++)
            {
                double inside = Enumerable.Range(0, Sub * Sub).Count(k => covers(px + (k % Sub + 0.5) / Sub, py + (k / Sub + 0.5) / Sub)) / (double)(Sub * Sub);
                _grey[py * _side + px] += (float)(height * inside);
                Share += inside / _grey.Length;
            }
    }
}
