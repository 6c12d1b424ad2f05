namespace Meltwise.Publishing.Figures;

/// <summary>Moves marks that would cover each other off their line, so that every coupon is seen.</summary>
public static class Swarm
{
    /// <summary>Offsets across the line, px, in the order of the values given.</summary>
    /// <param name="positionsPx">Places along the line, px.</param>
    /// <param name="sizePx">Extent of a mark, px.</param>
    public static IReadOnlyList<double> Offsets(IReadOnlyList<double> positionsPx, double sizePx)
    {
        double[] offsets = new double[positionsPx.Count];
        List<int> placed = [];
        foreach (int i in Enumerable.Range(0, positionsPx.Count).OrderBy(i => positionsPx[i]))
        {
            for (int level = 0; ; level++)
            {
                double offset = (level + 1) / 2 * sizePx * 0.62 * (level % 2 == 0 ? 1 : -1);
                if (placed.Exists(p => Math.Pow(positionsPx[p] - positionsPx[i], 2) + Math.Pow(offsets[p] - offset, 2) < sizePx * sizePx * 0.98))
                    continue;
                offsets[i] = offset;
                break;
            }
            placed.Add(i);
        }
        return offsets;
    }
}
