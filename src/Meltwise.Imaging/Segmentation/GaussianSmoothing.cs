using System.Numerics.Tensors;

namespace Meltwise.Imaging.Segmentation;

/// <summary>Smooths a picture with a Gaussian of small width, as two passes of one-dimensional weights.</summary>
/// <remarks>
/// <para><b>Formula.</b> Weights exp(-i²/2σ²), i = -r..r with r = ⌈4σ⌉, normalised to sum 1; the picture is mirrored at its frame (the edge pixel repeats).</para>
/// <para><b>Limits.</b> Meant for σ up to a few pixels; the truncation at 4σ drops less than 1e-4 of the weight.</para>
/// <para><b>Source.</b> Common practice, no source.</para>
/// </remarks>
internal static class GaussianSmoothing
{
    /// <summary>Pixels on each side that a smoothed pixel draws from.</summary>
    public static int Reach(double sigmaPx) => sigmaPx > 0 ? (int)Math.Ceiling(4 * sigmaPx) : 0;

    /// <summary>The weights, from -reach to +reach.</summary>
    public static float[] Weights(double sigmaPx)
    {
        int reach = Reach(sigmaPx);
        double[] raw = [.. Enumerable.Range(-reach, 2 * reach + 1).Select(i => Math.Exp(-0.5 * i * i / (sigmaPx * sigmaPx)))];
        double sum = raw.Sum();
        return [.. raw.Select(v => (float)(v / sum))];
    }

    /// <summary>Smooths <paramref name="plane"/> in place.</summary>
    public static void Apply(float[] plane, int width, int height, double sigmaPx, CancellationToken cancel)
    {
        if (sigmaPx <= 0) return;
        float[] weights = Weights(sigmaPx);
        int reach = weights.Length / 2;
        var across = new float[width * height];
        RowBands.Run(height, (from, to) =>
        {
            var padded = new float[width + 2 * reach];
            for (int y = from; y < to; y++)
                AlongRow(plane.AsSpan(y * width, width), padded, weights, across.AsSpan(y * width, width));
        }, cancel);
        RowBands.Run(height, (from, to) =>
        {
            for (int y = from; y < to; y++)
            {
                Span<float> row = plane.AsSpan(y * width, width);
                row.Clear();
                for (int i = -reach; i <= reach; i++)
                    TensorPrimitives.MultiplyAdd(across.AsSpan(Mirror(y + i, height) * width, width), weights[i + reach], row, row);
            }
        }, cancel);
    }

    /// <summary>Index mirrored into 0..n-1 with the edge repeated.</summary>
    public static int Mirror(int i, int n)
    {
        while (i < 0 || i >= n) i = i < 0 ? -1 - i : 2 * n - 1 - i;
        return i;
    }

    private static void AlongRow(ReadOnlySpan<float> row, float[] padded, float[] weights, Span<float> result)
    {
        int reach = weights.Length / 2;
        row.CopyTo(padded.AsSpan(reach));
        for (int i = 1; i <= reach; i++)
        {
            padded[reach - i] = row[Mirror(-i, row.Length)];
            padded[reach + row.Length - 1 + i] = row[Mirror(row.Length - 1 + i, row.Length)];
        }
        result.Clear();
        for (int i = 0; i < weights.Length; i++)
            TensorPrimitives.MultiplyAdd(padded.AsSpan(i, row.Length), weights[i], result, result);
    }
}
