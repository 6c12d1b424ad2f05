using System.Numerics;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Meltwise.Imaging.Segmentation;

/// <summary>Finds the runs of pixels above a level, row by row.</summary>
internal static class RunScan
{
    /// <summary>The runs of a window, in raster order.</summary>
    public static RunRows Above(float[] plane, int width, int height, float level, CancellationToken cancel)
    {
        var rows = new Run[height][];
        RowBands.Run(height, (from, to) =>
        {
            List<Run> found = [];
            for (int y = from; y < to; y++)
            {
                found.Clear();
                Row(plane.AsSpan(y * width, width), y, level, found);
                rows[y] = [.. found];
            }
        }, cancel);
        var rowStart = new int[height + 1];
        for (int y = 0; y < height; y++) rowStart[y + 1] = rowStart[y] + rows[y].Length;
        var runs = new Run[rowStart[height]];
        for (int y = 0; y < height; y++) rows[y].CopyTo(runs, rowStart[y]);
        return new(runs, rowStart, width);
    }

    private static void Row(ReadOnlySpan<float> row, int y, float level, List<Run> found)
    {
        int start = -1, x = 0;
        ref float first = ref MemoryMarshal.GetReference(row);
        Vector256<float> t = Vector256.Create(level);
        uint before = 0;
        for (; x + 8 <= row.Length; x += 8)
        {
            uint above = Vector256.GreaterThan(Vector256.LoadUnsafe(ref first, (nuint)x), t).ExtractMostSignificantBits();
            // A bit is set where a pixel differs from the one on its left.
            uint changes = (above ^ ((above << 1) | before)) & 0xFF;
            before = above >> 7;
            for (; changes != 0; changes &= changes - 1) Toggle(x + BitOperations.TrailingZeroCount(changes), ref start, y, found);
        }
        for (; x < row.Length; x++)
            if (row[x] > level != start >= 0) Toggle(x, ref start, y, found);
        if (start >= 0) found.Add(new Run(y, start, row.Length));
    }

    private static void Toggle(int x, ref int start, int y, List<Run> found)
    {
        if (start < 0)
        {
            start = x;
            return;
        }
        found.Add(new Run(y, start, x));
        start = -1;
    }
}
