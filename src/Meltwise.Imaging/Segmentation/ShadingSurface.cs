using System.Numerics.Tensors;
using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Segmentation;

/// <summary>The slowly varying grey level of the matrix over a picture: uneven light, detector tilt, broad etching differences.</summary>
/// <remarks>
/// <para><b>Formula.</b> B(x, y) = Σ w v / Σ w over the samples taken as matrix, w a Gaussian of distance with σ = 1/16 of the longer side
/// (1/8 in the first pass, before particles are known), computed on cells of 1/256 of the longer side and interpolated linearly between their centres.
/// Flattened level: v - B + mean B where light adds, v · mean B / B where light multiplies (then the contrast varies with the light too).</para>
/// <para><b>Limits.</b> Variations shorter than about an eighth of the picture are not light and stay. Where no matrix lies near, the mean of the whole matrix takes over.</para>
/// <para><b>Source.</b> Normalised convolution: H. Knutsson, C.-F. Westin, Proc. IEEE CVPR (1993) 515-523.</para>
/// </remarks>
public sealed class ShadingSurface
{
    private const int CellsOnLongSide = 256;
    private readonly float[] _cells;
    private readonly PixelBox _frame;
    private readonly int _columns, _rows;

    private ShadingSurface(PixelBox frame, int columns, int rows, float[] cells, bool multiplies)
    {
        (_frame, _columns, _rows, _cells, Multiplies) = (frame, columns, rows, cells, multiplies);
        // One after the other: a sum at vector width depends on where the array happens to lie in memory.
        double sum = 0;
        foreach (float cell in cells) sum += cell;
        Mean = (float)(sum / cells.Length);
    }

    /// <summary>Whether the light multiplies the level (contrast follows it) or adds to it.</summary>
    public bool Multiplies { get; }

    /// <summary>Mean level of the surface, in grey levels.</summary>
    public float Mean { get; }

    /// <summary>Greatest less least level of the surface, in grey levels.</summary>
    public float Range => TensorPrimitives.Max<float>(_cells) - TensorPrimitives.Min<float>(_cells);

    /// <summary>The same surface, taken as multiplying or adding.</summary>
    internal ShadingSurface As(bool multiplies) => new(_frame, _columns, _rows, _cells, multiplies);

    /// <summary>Fits the surface to the samples marked as matrix.</summary>
    /// <param name="samples">Samples of the picture.</param>
    /// <param name="isParticle">Samples to leave out; null to use all.</param>
    /// <param name="sigmaShare">σ as a share of the longer side.</param>
    internal static ShadingSurface Fit(PictureSamples samples, bool[]? isParticle, double sigmaShare)
    {
        int longer = Math.Max(samples.FrameWidth, samples.FrameHeight);
        double cell = Math.Max(1, (double)longer / CellsOnLongSide);
        int columns = Math.Max(1, (int)Math.Round(samples.FrameWidth / cell)), rows = Math.Max(1, (int)Math.Round(samples.FrameHeight / cell));
        double[] sum = new double[columns * rows], weight = new double[columns * rows];
        double allSum = 0, all = 0;
        for (int j = 0; j < samples.Rows; j++)
        {
            int row = Cell(samples.Y(j), samples.FrameHeight, rows) * columns;
            for (int i = 0; i < samples.Columns; i++)
            {
                int s = j * samples.Columns + i;
                if (!samples.Usable[s] || (isParticle is not null && isParticle[s])) continue;
                int c = row + Cell(samples.X(i), samples.FrameWidth, columns);
                double v = samples.Grey[s];
                sum[c] += v;
                weight[c]++;
                allSum += v;
                all++;
            }
        }
        double sigma = sigmaShare * longer / cell;
        sum = Blur(sum, columns, rows, sigma);
        weight = Blur(weight, columns, rows, sigma);
        double mean = all > 0 ? allSum / all : 0, trust = 0.01 * all / (columns * rows) + 1e-12;
        float[] cells = [.. sum.Select((s, c) => (float)((s + trust * mean) / (weight[c] + trust)))];
        return new(samples.Frame, columns, rows, cells, multiplies: false);
    }

    /// <summary>Flattens a window of the picture in place.</summary>
    /// <param name="plane">Grey levels of the window, row by row.</param>
    /// <param name="window">Where the window lies in the picture.</param>
    /// <param name="cancel">Stops the work.</param>
    internal void Flatten(float[] plane, PixelBox window, CancellationToken cancel)
    {
        (int[] left, float[] share) = Columns(window);
        RowBands.Run(window.Height, (from, to) =>
        {
            float[] cellRow = new float[_columns], level = new float[window.Width];
            for (int y = from; y < to; y++)
            {
                LevelRow(window.Y + y - _frame.Y, cellRow, left, share, level);
                Span<float> row = plane.AsSpan(y * window.Width, window.Width);
                if (Multiplies)
                {
                    TensorPrimitives.Divide(row, level, row);
                    TensorPrimitives.Multiply(row, Mean, row);
                }
                else
                {
                    TensorPrimitives.Subtract(row, level, row);
                    TensorPrimitives.Add(row, Mean, row);
                }
            }
        }, cancel);
    }

    /// <summary>Levels of the surface at a row of samples.</summary>
    internal float[] LevelsAt(PictureSamples samples, int row)
    {
        var level = new float[samples.Columns];
        var left = new int[samples.Columns];
        var share = new float[samples.Columns];
        for (int i = 0; i < samples.Columns; i++) (left[i], share[i]) = Between(samples.X(i), _frame.Width, _columns);
        LevelRow(samples.Y(row), new float[_columns], left, share, level);
        return level;
    }

    private (int[] Left, float[] Share) Columns(PixelBox window)
    {
        var left = new int[window.Width];
        var share = new float[window.Width];
        for (int x = 0; x < window.Width; x++) (left[x], share[x]) = Between(window.X + x - _frame.X, _frame.Width, _columns);
        return (left, share);
    }

    private void LevelRow(int y, float[] cellRow, int[] left, float[] share, float[] level)
    {
        (int top, float down) = Between(y, _frame.Height, _rows);
        ReadOnlySpan<float> upper = _cells.AsSpan(top * _columns, _columns);
        ReadOnlySpan<float> lower = _cells.AsSpan(Math.Min(top + 1, _rows - 1) * _columns, _columns);
        for (int c = 0; c < _columns; c++) cellRow[c] = Math.Max(1e-3f, upper[c] + down * (lower[c] - upper[c]));
        // Runs of pixels between the same two cell centres are one straight line, so they are filled at vector width.
        for (int x = 0; x < level.Length;)
        {
            int c = left[x], end = x + 1;
            while (end < level.Length && left[end] == c) end++;
            float a = cellRow[c], b = cellRow[Math.Min(c + 1, _columns - 1)];
            TensorPrimitives.Multiply(share.AsSpan(x, end - x), b - a, level.AsSpan(x, end - x));
            TensorPrimitives.Add(level.AsSpan(x, end - x), a, level.AsSpan(x, end - x));
            x = end;
        }
    }

    /// <summary>The cell that holds the middle of a pixel: by its middle, so that a mirrored picture fills the mirrored cells.</summary>
    private static int Cell(int pixel, int pixels, int cells) => (int)((2L * pixel + 1) * cells / (2L * pixels));

    private static (int Cell, float Share) Between(int pixel, int pixels, int cells)
    {
        double position = Math.Clamp((pixel + 0.5) * cells / pixels - 0.5, 0, cells - 1);
        int cell = (int)position;
        return (cell, (float)(position - cell));
    }

    private static double[] Blur(double[] values, int columns, int rows, double sigma)
    {
        int reach = (int)Math.Ceiling(4 * sigma);
        double[] weights = [.. Enumerable.Range(0, reach + 1).Select(i => Math.Exp(-0.5 * i * i / (sigma * sigma)))];
        double[] across = new double[values.Length], result = new double[values.Length];
        Parallel.For(0, rows, RowBands.Workers(), r =>
        {
            ReadOnlySpan<double> row = values.AsSpan(r * columns, columns);
            Span<double> sum = across.AsSpan(r * columns, columns);
            for (int k = Math.Max(-reach, 1 - columns); k <= Math.Min(reach, columns - 1); k++)
            {
                int from = Math.Max(0, -k), count = columns - Math.Abs(k);
                Span<double> part = sum.Slice(from, count);
                TensorPrimitives.MultiplyAdd(row.Slice(from + k, count), weights[Math.Abs(k)], part, part);
            }
        });
        Parallel.For(0, rows, RowBands.Workers(), r =>
        {
            for (int k = Math.Max(0, r - reach); k <= Math.Min(rows - 1, r + reach); k++)
                TensorPrimitives.MultiplyAdd(across.AsSpan(k * columns, columns), weights[Math.Abs(k - r)], result.AsSpan(r * columns, columns), result.AsSpan(r * columns, columns));
        });
        return result;
    }
}
