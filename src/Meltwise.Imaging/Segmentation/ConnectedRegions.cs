namespace Meltwise.Imaging.Segmentation;

/// <summary>Joins runs of pixels into connected regions.</summary>
/// <remarks>
/// <para><b>Rule.</b> Particle pixels are neighbours across edges and corners, matrix pixels across edges only, so that never both phases pass through one corner.</para>
/// <para><b>Source.</b> Run-based labelling with a union-find forest: common practice, no source.</para>
/// </remarks>
internal static class ConnectedRegions
{
    /// <summary>Regions as lists of runs in raster order, themselves in the raster order of their first run.</summary>
    /// <param name="rows">Runs of particle pixels.</param>
    /// <param name="fillHoles">Whether holes are filled, see <see cref="HoleFilling"/>.</param>
    /// <param name="leastArea">Regions of fewer pixels are dropped.</param>
    public static List<Run[]> Find(RunRows rows, bool fillHoles, int leastArea)
    {
        RegionForest forest = Join(rows, corners: true);
        if (fillHoles) (rows, forest) = HoleFilling.Fill(rows, forest);
        return Gather(rows.Runs, forest, leastArea);
    }

    /// <summary>Joins runs of neighbouring rows that touch.</summary>
    /// <param name="rows">The runs.</param>
    /// <param name="corners">Whether touching by a corner counts.</param>
    public static RegionForest Join(RunRows rows, bool corners)
    {
        RegionForest forest = new(rows.Runs.Length);
        Run[] runs = rows.Runs;
        int reach = corners ? 1 : 0;
        for (int y = 1; y < rows.Height; y++)
        {
            int a = rows.Start[y - 1], aEnd = rows.Start[y], b = aEnd, bEnd = rows.Start[y + 1];
            while (a < aEnd && b < bEnd)
            {
                if (runs[a].From < runs[b].To + reach && runs[b].From < runs[a].To + reach) forest.Union(a, b);
                if (runs[a].To < runs[b].To) a++;
                else b++;
            }
        }
        return forest;
    }

    private static List<Run[]> Gather(Run[] runs, RegionForest forest, int leastArea)
    {
        int[] count = new int[runs.Length], area = new int[runs.Length], next = new int[runs.Length];
        for (int i = 0; i < runs.Length; i++)
        {
            int root = forest.Root(i);
            count[root]++;
            area[root] += runs[i].Length;
        }
        var slot = new Run[]?[runs.Length];
        List<Run[]> regions = [];
        for (int i = 0; i < runs.Length; i++)
        {
            int root = forest.Root(i);
            if (area[root] < leastArea) continue;
            if (slot[root] is not { } region) regions.Add(slot[root] = region = new Run[count[root]]);
            region[next[root]++] = runs[i];
        }
        return regions;
    }
}

/// <summary>Runs in raster order with the place where each row starts.</summary>
/// <param name="Runs">The runs.</param>
/// <param name="Start">Index of the first run of each row; one more entry at the end.</param>
/// <param name="Width">Width of the window.</param>
internal sealed record RunRows(Run[] Runs, int[] Start, int Width)
{
    public int Height => Start.Length - 1;
}

/// <summary>Which runs belong together: a union-find forest whose roots are the earliest runs.</summary>
internal sealed class RegionForest(int count)
{
    private readonly int[] _parent = [.. Enumerable.Range(0, count)];

    public int Root(int i)
    {
        while (_parent[i] != i) i = _parent[i] = _parent[_parent[i]];
        return i;
    }

    public void Union(int a, int b)
    {
        int ra = Root(a), rb = Root(b);
        if (ra != rb) _parent[Math.Max(ra, rb)] = Math.Min(ra, rb);
    }
}
