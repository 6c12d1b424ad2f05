namespace Meltwise.Imaging.Segmentation;

/// <summary>Replaces each pixel by the median of a square around it: takes out specks and noise and keeps straight edges where they are.</summary>
/// <remarks>
/// <para><b>Formula.</b> A histogram of the square slides along the row; entering and leaving columns are counted in and out and the median moves from its last place. Levels are counted in 65,536 steps of 1/257 grey level in two tiers (256 coarse, 256 fine each),
/// so the median is exact for grey pictures of 8 and 16 bits and to 1/257 level for the mean of colour channels. The picture is mirrored at its frame (the edge pixel repeats).</para>
/// <para><b>Limits.</b> Cost grows with the side of the square, not with its area. Features less than half the square wide vanish, and corners are rounded.</para>
/// <para><b>Source.</b> T. S. Huang, G. J. Yang, G. Y. Tang, IEEE Trans. Acoustics, Speech and Signal Processing 27 (1979) 13-18.</para>
/// </remarks>
public static class MedianFilter
{
    private const int StepsPerLevel = 257, Steps = 65_536;

    /// <summary>Filters <paramref name="plane"/> in place.</summary>
    /// <param name="plane">Grey levels from 0 to 255, row by row.</param>
    /// <param name="width">Width.</param>
    /// <param name="height">Height.</param>
    /// <param name="side">Side of the square in pixels, odd; 1 changes nothing.</param>
    /// <param name="cancel">Stops the work.</param>
    public static void Apply(float[] plane, int width, int height, int side, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(plane);
        if (side < 1 || side % 2 == 0) throw new ArgumentOutOfRangeException(nameof(side), side, "The square of a median filter has an odd side.");
        if (side == 1) return;
        var codes = new ushort[width * height];
        RowBands.Run(height, (from, to) =>
        {
            for (int i = from * width; i < to * width; i++) codes[i] = (ushort)Math.Clamp(MathF.Round(plane[i] * StepsPerLevel), 0, Steps - 1);
        }, cancel);
        RowBands.Run(height, (from, to) =>
        {
            SlidingMedian square = new();
            var rows = new int[side];
            for (int y = from; y < to; y++)
            {
                for (int k = 0; k < side; k++) rows[k] = GaussianSmoothing.Mirror(y + k - side / 2, height) * width;
                AlongRow(codes, rows, width, square, plane.AsSpan(y * width, width));
            }
        }, cancel);
    }

    private static void AlongRow(ushort[] codes, int[] rows, int width, SlidingMedian square, Span<float> result)
    {
        int reach = rows.Length / 2;
        square.Clear();
        for (int x = -reach; x <= reach; x++) Count(GaussianSmoothing.Mirror(x, width), 1);
        for (int x = 0; x < width; x++)
        {
            result[x] = square.Median(rows.Length * rows.Length / 2) / (float)StepsPerLevel;
            Count(GaussianSmoothing.Mirror(x - reach, width), -1);
            Count(GaussianSmoothing.Mirror(x + reach + 1, width), 1);
        }

        void Count(int column, int change)
        {
            foreach (int row in rows) square.Count(codes[row + column], change);
        }
    }

    /// <summary>Counts of the codes within the square, in two tiers.</summary>
    private sealed class SlidingMedian
    {
        private readonly int[] _coarse = new int[256], _fine = new int[Steps];
        private int _at, _below;

        public void Clear()
        {
            Array.Clear(_coarse);
            Array.Clear(_fine);
            (_at, _below) = (0, 0);
        }

        public void Count(int code, int change)
        {
            _coarse[code >> 8] += change;
            _fine[code] += change;
            if (code >> 8 < _at) _below += change;
        }

        /// <summary>The code with <paramref name="rank"/> codes before it in order.</summary>
        public int Median(int rank)
        {
            while (_below > rank) _below -= _coarse[--_at];
            while (_below + _coarse[_at] <= rank) _below += _coarse[_at++];
            int code = _at << 8, before = _below;
            while (before + _fine[code] <= rank) before += _fine[code++];
            return code;
        }
    }
}
