using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging.Stereology;

/// <summary>Feature interceptions per unit length along the rows and columns of a picture, and what follows from them: banding, orientation, mean free path.</summary>
/// <remarks>
/// <para><b>Formula.</b> N_L counts the features met by every pixel row (or column) over the length of all of them; one cut by the frame counts one half. With rows along the deformation axis:
/// anisotropy index AI = N_L⊥/N_L∥, degree of orientation Ω = (N_L⊥ - N_L∥)/(N_L⊥ + 0.571 N_L∥), mean spacing SB = 1/N_L⊥, mean free path λ = (1 - A_A)/N_L.</para>
/// <para><b>Limits.</b> Equiaxed particles gathered in bands keep AI near 1: only their row profile shows the bands, see <see cref="RowProfileVariation"/>.</para>
/// <para><b>Source.</b> ASTM E1268 for AI, Ω and SB; ASTM E1245 for λ; both from memory.</para>
/// </remarks>
/// <param name="Parallel">N_L along rows, per pixel.</param>
/// <param name="Perpendicular">N_L along columns, per pixel.</param>
/// <param name="AreaFraction">Share of mask pixels.</param>
/// <param name="RowProfileVariation">Coefficient of variation of the particle share of strips of eight rows: large when particles lie in bands along the rows.</param>
/// <param name="ColumnProfileVariation">The same for strips of eight columns.</param>
public sealed record Interceptions(double Parallel, double Perpendicular, double AreaFraction, double RowProfileVariation, double ColumnProfileVariation)
{
    /// <summary>Anisotropy index, 1 for no preferred direction; null where nothing was met.</summary>
    public double? AnisotropyIndex => Parallel > 0 ? Perpendicular / Parallel : null;

    /// <summary>Degree of orientation, 0 none to 1 full; null where nothing was met.</summary>
    public double? DegreeOfOrientation => Parallel > 0 ? (Perpendicular - Parallel) / (Perpendicular + 0.571 * Parallel) : null;

    /// <summary>Mean spacing centre to centre across the rows, in pixels; null where nothing was met.</summary>
    public double? SpacingPx => Perpendicular > 0 ? 1 / Perpendicular : null;

    /// <summary>Mean free path along rows, in pixels; null where nothing was met.</summary>
    public double? MeanFreePathParallelPx => Parallel > 0 ? (1 - AreaFraction) / Parallel : null;

    /// <summary>Mean free path along columns, in pixels; null where nothing was met.</summary>
    public double? MeanFreePathPerpendicularPx => Perpendicular > 0 ? (1 - AreaFraction) / Perpendicular : null;

    /// <summary>Counts interceptions from the masks of the particles.</summary>
    /// <param name="picture">A picture whose particles kept their masks.</param>
    public static Interceptions Of(SegmentedPicture picture)
    {
        ArgumentNullException.ThrowIfNull(picture);
        PixelCount count = new(picture);
        double pixels = picture.InspectedPixels;
        return new(count.AlongRows / pixels, count.AlongColumns / pixels, count.Mask / pixels, count.RowVariation, count.ColumnVariation);
    }

    /// <summary>Interceptions counted from runs: touching pieces of one parted region are one feature.</summary>
    private sealed class PixelCount
    {
        private const int Strip = 8;

        public PixelCount(SegmentedPicture picture)
        {
            var (x0, y0, width, height) = picture.Plan.Inspected;
            List<(int From, int To)>[] rows = new List<(int, int)>[height];
            for (int y = 0; y < height; y++) rows[y] = [];
            foreach (Particle p in picture.Particles)
                foreach (Run run in p.Mask) rows[run.Y - y0].Add((run.From - x0, run.To - x0));
            double[] rowShare = new double[height], columnShare = new double[width];
            var above = new bool[width];
            for (int y = 0; y < height; y++) Row(rows[y], y, height, above, rowShare, columnShare);
            RowVariation = Variation(rowShare, width);
            ColumnVariation = Variation(columnShare, height);
        }

        public double AlongRows { get; private set; }
        public double AlongColumns { get; private set; }
        public double Mask { get; private set; }
        public double RowVariation { get; }
        public double ColumnVariation { get; }

        private void Row(List<(int From, int To)> runs, int y, int height, bool[] above, double[] rowShare, double[] columnShare)
        {
            var here = new bool[above.Length];
            foreach ((int from, int to) in runs) here.AsSpan(from, to - from).Fill(true);
            for (int x = 0; x < here.Length; x++)
            {
                if (here[x] && (x == 0 || !here[x - 1])) AlongRows++;
                if (here[x] && !above[x]) AlongColumns++;
                if (!here[x]) continue;
                Mask++;
                rowShare[y]++;
                columnShare[x]++;
                if (y == 0 || y == height - 1) AlongColumns -= 0.5;
            }
            if (here[0]) AlongRows -= 0.5;
            if (here[^1]) AlongRows -= 0.5;
            here.CopyTo(above, 0);
        }

        private static double Variation(double[] shares, int length)
        {
            double[] strips = [.. shares.Chunk(Strip).Where(c => c.Length == Strip).Select(c => c.Average() / length)];
            if (strips.Length < 2) return 0;
            double mean = strips.Average();
            return mean > 0 ? Math.Sqrt(strips.Sum(v => (v - mean) * (v - mean)) / strips.Length) / mean : 0;
        }
    }
}
