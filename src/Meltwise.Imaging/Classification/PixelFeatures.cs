using System.Numerics.Tensors;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging.Classification;

/// <summary>What the classifier sees of each pixel: level, slope, curvature and roughness at several widths.</summary>
/// <remarks>
/// <para><b>Formula.</b> For σ = 1, 2, 4 and 8 px: the smoothed level, the size of its slope, the larger and smaller second derivative (eigenvalues of the Hessian), and the local standard deviation √(G(v²) - G(v)²).
/// The raw level comes first.</para>
/// <para><b>Source.</b> Multi-scale derivative features: B. M. ter Haar Romeny, Front-End Vision and Multi-Scale Image Analysis, Springer (2003).</para>
/// </remarks>
internal sealed class PixelFeatures
{
    private static readonly double[] s_sigmas = [1, 2, 4, 8];

    /// <summary>Number of features of a pixel.</summary>
    public const int Count = 1 + 4 * 5;

    /// <summary>Pixels around a pixel that its features draw from.</summary>
    private static readonly int s_reach = GaussianSmoothing.Reach(s_sigmas[^1]) + 1;

    private readonly float[][] _planes;
    private readonly PixelBox _core, _window;

    private PixelFeatures(float[][] planes, PixelBox core, PixelBox window) => (_planes, _core, _window) = (planes, core, window);

    /// <summary>Features of a part of a picture; the same whatever part is asked for.</summary>
    public static PixelFeatures Of(GreySource picture, PixelBox core, CancellationToken cancel)
    {
        PixelBox window = core.Grow(s_reach, picture.Frame);
        int width = window.Width, height = window.Height;
        var grey = new float[window.Area];
        picture.Read(window, grey);
        List<float[]> planes = [grey];
        foreach (double sigma in s_sigmas)
        {
            float[] level = [.. grey], squares = new float[grey.Length];
            TensorPrimitives.Multiply(level, level, squares);
            GaussianSmoothing.Apply(level, width, height, sigma, cancel);
            GaussianSmoothing.Apply(squares, width, height, sigma, cancel);
            float[] slope = new float[level.Length], larger = new float[level.Length], smaller = new float[level.Length];
            RowBands.Run(height, (from, to) => Derivatives(level, squares, width, height, from, to, slope, larger, smaller), cancel);
            planes.AddRange([level, slope, larger, smaller, squares]);
        }
        return new([.. planes], core, window);
    }

    /// <summary>Features of one pixel, counted row by row in the part asked for.</summary>
    public void Copy(int pixel, Span<float> features)
    {
        int at = (_core.Y - _window.Y + pixel / _core.Width) * _window.Width + _core.X - _window.X + pixel % _core.Width;
        for (int f = 0; f < Count; f++) features[f] = _planes[f][at];
    }

    /// <summary>Fills slope and second derivatives, and turns the smoothed squares into local standard deviations.</summary>
    private static void Derivatives(float[] level, float[] squares, int width, int height, int from, int to, float[] slope, float[] larger, float[] smaller)
    {
        for (int y = from; y < to; y++)
            for (int x = 0; x < width; x++)
            {
                int left = Math.Max(0, x - 1), right = Math.Min(width - 1, x + 1), up = Math.Max(0, y - 1) * width, at = y * width, down = Math.Min(height - 1, y + 1) * width;
                float gx = 0.5f * (level[at + right] - level[at + left]), gy = 0.5f * (level[down + x] - level[up + x]);
                float xx = level[at + right] - 2 * level[at + x] + level[at + left], yy = level[down + x] - 2 * level[at + x] + level[up + x];
                float xy = 0.25f * (level[down + right] - level[down + left] - level[up + right] + level[up + left]);
                float mean = 0.5f * (xx + yy), half = MathF.Sqrt(0.25f * (xx - yy) * (xx - yy) + xy * xy);
                int i = at + x;
                (slope[i], larger[i], smaller[i]) = (MathF.Sqrt(gx * gx + gy * gy), mean + half, mean - half);
                squares[i] = MathF.Sqrt(Math.Max(0, squares[i] - level[i] * level[i]));
            }
    }
}
