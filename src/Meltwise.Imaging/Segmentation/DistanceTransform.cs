namespace Meltwise.Imaging.Segmentation;

/// <summary>Exact squared Euclidean distance of each pixel to the nearest background pixel.</summary>
/// <remarks>
/// <para><b>Formula.</b> Lower envelope of parabolas, one pass along columns and one along rows; exact in integers.</para>
/// <para><b>Limits.</b> Beyond the window is neither background nor particle. With no background at all every distance is the largest value.</para>
/// <para><b>Source.</b> P. F. Felzenszwalb, D. P. Huttenlocher, Theory of Computing 8 (2012) 415-428; A. Meijster, J. Roerdink, W. Hesselink, in Mathematical Morphology and its Applications (2000) 331-340.</para>
/// </remarks>
internal static class DistanceTransform
{
    private const int Far = 1 << 20;

    /// <summary>Squared distances in pixels², written to <paramref name="squared"/>.</summary>
    /// <param name="inside">1 inside, anything else background, row by row.</param>
    /// <param name="width">Width.</param>
    /// <param name="height">Height.</param>
    /// <param name="squared">The result, at least width times height.</param>
    public static void Squared(ReadOnlySpan<byte> inside, int width, int height, Span<long> squared)
    {
        Span<int> column = width * height <= 4096 ? stackalloc int[width * height] : new int[width * height];
        AlongColumns(inside, width, height, column);
        Span<int> site = width <= 1024 ? stackalloc int[width] : new int[width];
        Span<int> edge = width <= 1024 ? stackalloc int[width] : new int[width];
        for (int y = 0; y < height; y++) AlongRow(column.Slice(y * width, width), site, edge, squared.Slice(y * width, width));
    }

    private static void AlongColumns(ReadOnlySpan<byte> inside, int width, int height, Span<int> distance)
    {
        for (int x = 0; x < width; x++) distance[x] = inside[x] != 1 ? 0 : Far;
        for (int i = width; i < width * height; i++) distance[i] = inside[i] != 1 ? 0 : Math.Min(Far, distance[i - width] + 1);
        for (int i = width * (height - 1) - 1; i >= 0; i--) distance[i] = Math.Min(distance[i], distance[i + width] + 1);
    }

    private static void AlongRow(ReadOnlySpan<int> column, Span<int> site, Span<int> edge, Span<long> squared)
    {
        static long Value(ReadOnlySpan<int> g, int x, int i) => (long)(x - i) * (x - i) + (long)g[i] * g[i];
        int top = 0;
        site[0] = 0;
        edge[0] = 0;
        for (int u = 1; u < column.Length; u++)
        {
            while (top >= 0 && Value(column, edge[top], site[top]) > Value(column, edge[top], u)) top--;
            if (top < 0)
            {
                top = 0;
                site[0] = u;
                continue;
            }
            long i = site[top];
            long crossing = 1 + (((long)u * u - i * i + (long)column[u] * column[u] - (long)column[(int)i] * column[(int)i]) / (2 * (u - i)));
            if (crossing >= column.Length) continue;
            top++;
            site[top] = u;
            edge[top] = (int)crossing;
        }
        for (int x = column.Length - 1; x >= 0; x--)
        {
            squared[x] = Value(column, x, site[top]);
            if (x == edge[top] && top > 0) top--;
        }
    }
}
