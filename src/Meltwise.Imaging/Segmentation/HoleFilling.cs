namespace Meltwise.Imaging.Segmentation;

/// <summary>Fills matrix-coloured holes inside particles.</summary>
/// <remarks>
/// <para><b>Rule.</b> A hole (matrix not joined to the frame across pixel edges) belongs to the particle around it when it is no larger than that particle was before filling;
/// a net of particles around a large piece of matrix stays a net. Whatever lies inside a filled hole joins the particle.</para>
/// <para><b>Source.</b> Common practice, no source.</para>
/// </remarks>
internal static class HoleFilling
{
    /// <summary>The rows with holes filled, and the regions they form.</summary>
    public static (RunRows Rows, RegionForest Forest) Fill(RunRows rows, RegionForest forest)
    {
        RunRows gaps = Gaps(rows);
        RegionForest gapForest = ConnectedRegions.Join(gaps, corners: false);
        bool[] fill = Chosen(rows, forest, gaps, gapForest);
        List<Run> runs = new(rows.Runs.Length);
        List<int> region = new(rows.Runs.Length);
        var start = new int[rows.Start.Length];
        for (int y = 0; y < rows.Height; y++)
        {
            int g = gaps.Start[y];
            for (int i = rows.Start[y]; i < rows.Start[y + 1]; i++)
            {
                while (g < gaps.Start[y + 1] && gaps.Runs[g].To < rows.Runs[i].From) g++;
                if (i > rows.Start[y] && fill[gapForest.Root(g)])
                {
                    forest.Union(i - 1, i);
                    runs[^1] = runs[^1] with { To = rows.Runs[i].To };
                    continue;
                }
                runs.Add(rows.Runs[i]);
                region.Add(i);
            }
            start[y + 1] = runs.Count;
        }
        return (new([.. runs], start, rows.Width), Renumber(region, forest));
    }

    /// <summary>For each root of a piece of matrix, whether it is a hole to fill.</summary>
    private static bool[] Chosen(RunRows rows, RegionForest forest, RunRows gaps, RegionForest gapForest)
    {
        long[] hole = new long[gaps.Runs.Length], area = new long[rows.Runs.Length];
        bool[] open = new bool[gaps.Runs.Length], fill = new bool[gaps.Runs.Length];
        for (int i = 0; i < rows.Runs.Length; i++) area[forest.Root(i)] += rows.Runs[i].Length;
        for (int g = 0; g < gaps.Runs.Length; g++)
        {
            Run gap = gaps.Runs[g];
            int root = gapForest.Root(g);
            hole[root] += gap.Length;
            open[root] |= gap.Y == 0 || gap.Y == gaps.Height - 1 || gap.From == 0 || gap.To == gaps.Width;
        }
        for (int y = 0; y < rows.Height; y++)
        {
            int i = rows.Start[y];
            for (int g = gaps.Start[y]; g < gaps.Start[y + 1]; g++)
            {
                // The root of a piece of matrix is its first gap in raster order, so the run on the left of that gap is part of the particle around it.
                while (i < rows.Start[y + 1] && rows.Runs[i].To < gaps.Runs[g].From) i++;
                if (gapForest.Root(g) == g && !open[g]) fill[g] = hole[g] <= area[forest.Root(i)];
            }
        }
        return fill;
    }

    private static RunRows Gaps(RunRows rows)
    {
        List<Run> gaps = new(rows.Runs.Length + rows.Start.Length);
        var start = new int[rows.Start.Length];
        for (int y = 0; y < rows.Height; y++)
        {
            int x = 0;
            for (int i = rows.Start[y]; i < rows.Start[y + 1]; i++)
            {
                if (rows.Runs[i].From > x) gaps.Add(new Run(y, x, rows.Runs[i].From));
                x = rows.Runs[i].To;
            }
            if (x < rows.Width) gaps.Add(new Run(y, x, rows.Width));
            start[y + 1] = gaps.Count;
        }
        return new([.. gaps], start, rows.Width);
    }

    private static RegionForest Renumber(List<int> region, RegionForest forest)
    {
        Dictionary<int, int> first = [];
        RegionForest renumbered = new(region.Count);
        for (int i = 0; i < region.Count; i++)
            if (!first.TryAdd(forest.Root(region[i]), i)) renumbered.Union(first[forest.Root(region[i])], i);
        return renumbered;
    }
}
