namespace Meltwise.Imaging.Segmentation;

/// <summary>A threshold for each pixel from the mean and spread of its neighbourhood.</summary>
/// <remarks>
/// <para><b>Formula.</b> On the negative picture (particles dark on bright) t = m (1 + k (s / R - 1)), m and s the mean and standard deviation in a square window, k = 0.2, R = 128 grey levels.
/// A pixel is particle where its negative lies below t.</para>
/// <para><b>Limits.</b> The window (51 pixels) must be wider than the particles, or their middles are lost. Windows are cut at the frame.</para>
/// <para><b>Source.</b> J. Sauvola, M. Pietikäinen, Pattern Recognition 33 (2000) 225-236.</para>
/// </remarks>
internal static class LocalThreshold
{
    /// <summary>Pixels on each side of the window.</summary>
    public const int Reach = 25;

    private const double K = 0.2, R = 128;
    private const int Steps = 256;

    /// <summary>Replaces each level of the plane (bright particles) by its height above its own threshold, so that the threshold becomes 0.</summary>
    public static void Subtract(float[] plane, int width, int height, CancellationToken cancel)
    {
        // Levels are summed as whole steps of 1/256, so that the sums are exact and do not depend on where the window starts; what overflows cancels in the differences.
        long[] sums = new long[(width + 1) * (height + 1)], squares = new long[(width + 1) * (height + 1)];
        for (int y = 0; y < height; y++)
        {
            long row = 0, rowSquares = 0;
            for (int x = 0; x < width; x++)
            {
                long v = (long)MathF.Round((255 - plane[y * width + x]) * Steps);
                row += v;
                rowSquares += v * v;
                int at = (y + 1) * (width + 1) + x + 1;
                sums[at] = sums[at - width - 1] + row;
                squares[at] = squares[at - width - 1] + rowSquares;
            }
        }
        RowBands.Run(height, (from, to) =>
        {
            for (int y = from; y < to; y++)
                for (int x = 0; x < width; x++)
                {
                    int x0 = Math.Max(0, x - Reach), x1 = Math.Min(width, x + Reach + 1), y0 = Math.Max(0, y - Reach), y1 = Math.Min(height, y + Reach + 1);
                    double n = (x1 - x0) * (double)(y1 - y0);
                    double mean = Window(sums, width + 1, x0, x1, y0, y1) / n / Steps;
                    double deviation = Math.Sqrt(Math.Max(0, Window(squares, width + 1, x0, x1, y0, y1) / n / (Steps * Steps) - mean * mean));
                    plane[y * width + x] -= (float)(255 - mean * (1 + K * (deviation / R - 1)));
                }
        }, cancel);
    }

    private static long Window(long[] table, int stride, int x0, int x1, int y0, int y1) =>
        table[y1 * stride + x1] - table[y0 * stride + x1] - table[y1 * stride + x0] + table[y0 * stride + x0];
}
