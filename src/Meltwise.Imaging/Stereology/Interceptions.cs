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
    /// <param name="smoothOutlines">Whether each pixel first takes the side of most of its 3 x 3 neighbours: noise along an outline that runs with the lines would be counted as features.</param>
    public static Interceptions Of(SegmentedPicture picture, bool smoothOutlines = true)
    {
        ArgumentNullException.ThrowIfNull(picture);
        PixelCount count = new(picture, smoothOutlines);
        double pixels = picture.InspectedPixels;
        return new(count.AlongRows / pixels, count.AlongColumns / pixels, count.Mask / pixels, count.RowVariation, count.ColumnVariation);
    }

    /// <summary>Interceptions counted from runs: touching pieces of one parted region are one feature.</summary>
    private sealed class PixelCount
    {
        private const int Strip = 8;

        public PixelCount(SegmentedPicture picture, bool smooth)
        {
            var (x0, y0, width, height) = picture.Plan.Inspected;
            var mask = new byte[width * height];
            foreach (Particle p in picture.Particles)
                foreach (Run run in p.Mask) mask.AsSpan((run.Y - y0) * width + run.From - x0, run.Length).Fill(1);
            if (smooth) mask = Majority(mask, width, height);
            double[] rowShare = new double[height], columnShare = new double[width];
            for (int y = 0; y < height; y++) Row(mask, width, y, height, rowShare, columnShare);
            RowVariation = Variation(rowShare, width);
            ColumnVariation = Variation(columnShare, height);
        }

        public double AlongRows { get; private set; }
        public double AlongColumns { get; private set; }
        public double Mask { get; private set; }
        public double RowVariation { get; }
        public double ColumnVariation { get; }

        private void Row(byte[] mask, int width, int y, int height, double[] rowShare, double[] columnShare)
        {
            ReadOnlySpan<byte> here = mask.AsSpan(y * width, width);
            ReadOnlySpan<byte> above = y > 0 ? mask.AsSpan((y - 1) * width, width) : default;
            for (int x = 0; x < width; x++)
            {
                if (here[x] == 0) continue;
                if (x == 0 || here[x - 1] == 0) AlongRows++;
                if (y == 0 || above[x] == 0) AlongColumns++;
                if (y == 0 || y == height - 1) AlongColumns -= 0.5;
                Mask++;
                rowShare[y]++;
                columnShare[x]++;
            }
            AlongRows -= 0.5 * (here[0] + here[^1]);
        }

        private static byte[] Majority(byte[] mask, int width, int height)
        {
            var smooth = (byte[])mask.Clone();
            System.Threading.Tasks.Parallel.For(1, Math.Max(1, height - 1), RowBands.Workers(), y =>
            {
                for (int i = y * width + 1; i < (y + 1) * width - 1; i++)
                {
                    int sum = mask[i - width - 1] + mask[i - width] + mask[i - width + 1] + mask[i - 1] + mask[i] + mask[i + 1] + mask[i + width - 1] + mask[i + width] + mask[i + width + 1];
                    smooth[i] = (byte)(sum >= 5 ? 1 : 0);
                }
            });
            return smooth;
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
