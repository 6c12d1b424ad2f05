namespace Meltwise.Imaging.Segmentation;

/// <summary>Parts touching particles at their necks.</summary>
/// <remarks>
/// <para><b>Rule.</b> The distance to the background is flooded from its summits down. Where two bodies meet, the distance there is half the width of the neck. They stay apart when it is less than
/// <c>neck</c> times the summit of the smaller body and at least 0.75 px below it, and both hold at least the smallest area; else they are one, and so they are where the neck is a sliver of less than 4 px along the frame. Distances are reckoned from the pixel's edge (half a pixel less).</para>
/// <para>A filled hole counts as background where it lies between bodies (in a region that fills less than 95 % of its convex hull), since a ring of particles closes such holes; afterwards it goes to the pieces around it.</para>
/// <para><b>Limits.</b> Two equal discs are parted when their centres are more than 2 √(1 - neck²) radii apart (1.43 radii at 0.7). A single waisted particle is parted too: shape alone cannot tell.</para>
/// <para><b>Source.</b> Watershed by flooding, L. Vincent, P. Soille, IEEE Trans. Pattern Analysis and Machine Intelligence 13 (1991) 583-598; the neck rule is ours.</para>
/// </remarks>
internal static class WatershedSplit
{
    private const double LeastDrop = 0.75, SliverPx = 2, ConvexShare = 0.95;
    private const int IndexBits = 28;

    /// <summary>Parts the region drawn in <paramref name="raster"/>; writes the piece numbers and returns how many there are.</summary>
    public static int Part(RegionRaster raster, double neck, int leastArea)
    {
        int width = raster.Width, size = width * raster.Height;
        if (raster.HasHoles && raster.Solidity >= ConvexShare) raster.CloseHoles();
        DistanceTransform.Squared(raster.Inside.AsSpan(0, size), width, raster.Height, raster.Squared);
        int n = 0;
        for (int i = 0; i < size; i++)
            if (raster.Inside[i] == RegionRaster.Body) raster.Order[n++] = -(raster.Squared[i] << IndexBits) + i;
        raster.Order.AsSpan(0, n).Sort();
        Basins basins = new(neck, leastArea);
        Span<int> piece = raster.Piece.AsSpan(0, size);
        piece.Clear();
        for (int k = 0; k < n; k++)
        {
            int i = (int)(raster.Order[k] & ((1L << IndexBits) - 1));
            piece[i] = 1 + Flood(raster, piece, i, basins);
        }
        int pieces = basins.Number(raster, piece, n);
        raster.ShareHoles();
        return pieces;
    }

    private static int Flood(RegionRaster raster, Span<int> piece, int i, Basins basins)
    {
        int width = raster.Width, x = i % width, y = i / width, joined = -1;
        long steepest = -1;
        double distance = Math.Sqrt(raster.Squared[i]) - 0.5;
        // A sliver along the frame cannot be judged: most of the neck is not seen.
        bool seenInPart = distance < SliverPx && raster.ToWindowEdge(x, y) <= distance + 1;
        for (int ny = Math.Max(0, y - 1); ny <= Math.Min(raster.Height - 1, y + 1); ny++)
            for (int nx = Math.Max(0, x - 1); nx <= Math.Min(width - 1, x + 1); nx++)
            {
                int at = ny * width + nx;
                if (piece[at] == 0) continue;
                int basin = basins.Root(piece[at] - 1);
                if (joined >= 0 && basin != joined && (seenInPart || basins.AreOne(basin, joined, distance))) basin = joined = basins.Merge(basin, joined);
                if (raster.Squared[at] > steepest) (steepest, joined) = (raster.Squared[at], basin);
            }
        // A summit near the frame may stand on what the frame hides, and is taken a quarter of the way down to what is seen.
        if (joined < 0) return basins.Add(Math.Min(distance, 0.75 * distance + 0.25 * raster.ToWindowEdge(x, y)));
        joined = basins.Root(joined);
        basins.Grow(joined);
        return joined;
    }

    /// <summary>The bodies met so far.</summary>
    private sealed class Basins(double neck, int leastArea)
    {
        private readonly List<int> _parent = [];
        private readonly List<double> _summit = [];
        private readonly List<int> _area = [];

        public int Add(double summit)
        {
            _parent.Add(_parent.Count);
            _summit.Add(summit);
            _area.Add(1);
            return _parent.Count - 1;
        }

        public void Grow(int basin) => _area[basin]++;

        public int Root(int basin)
        {
            while (_parent[basin] != basin) basin = _parent[basin];
            return basin;
        }

        public bool AreOne(int a, int b, double saddle)
        {
            double smaller = Math.Min(_summit[a], _summit[b]);
            return saddle >= neck * smaller || smaller - saddle < LeastDrop || Math.Min(_area[a], _area[b]) < leastArea;
        }

        public int Merge(int a, int b)
        {
            (int kept, int gone) = _summit[a] > _summit[b] || (_summit[a] == _summit[b] && a < b) ? (a, b) : (b, a);
            _parent[gone] = kept;
            _area[kept] += _area[gone];
            return kept;
        }

        /// <summary>Replaces basin names by piece numbers from 1 in raster order.</summary>
        public int Number(RegionRaster raster, Span<int> piece, int pixels)
        {
            if (_parent.Count == 1) return pixels > 0 ? 1 : 0;
            var number = new int[_parent.Count];
            int count = 0;
            for (int i = 0; i < piece.Length; i++)
            {
                if (raster.Inside[i] != RegionRaster.Body) continue;
                int root = Root(piece[i] - 1);
                if (number[root] == 0) number[root] = ++count;
                piece[i] = number[root];
            }
            return count;
        }
    }
}
