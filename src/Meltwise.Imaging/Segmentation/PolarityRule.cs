namespace Meltwise.Imaging.Segmentation;

/// <summary>Decides which of the two grey-level classes is particles and which is matrix.</summary>
/// <remarks>
/// <para><b>Rule.</b> A class below 35 % of the area is particles. Between 35 and 65 % the class on the hollow side of most of the boundary is matrix: particles bulge.
/// Bulging is read from a copy of the division blurred by 6 samples: at a boundary that bulges towards the matrix, less than half of the neighbourhood is particle.</para>
/// <para><b>Limits.</b> A net of hollow-sided matrix films is needed; a lamellar structure has no particles and the darker or brighter class is chosen almost by chance (a note says that the choice was close).</para>
/// <para><b>Source.</b> Common practice, no source.</para>
/// </remarks>
internal static class PolarityRule
{
    private const double Minority = 0.35, SpeckSigma = 2, BulgeSigma = 6;

    /// <summary>Chooses the polarity; the second value is whether the choice was close.</summary>
    /// <param name="flat">Samples with the first shading taken out.</param>
    /// <param name="threshold">Threshold between the two classes.</param>
    public static (Polarity Polarity, bool Close) Choose(PictureSamples flat, double threshold)
    {
        double share = flat.Grey.Count(v => v > threshold) / (double)flat.Grey.Length;
        if (share < Minority) return (Polarity.Bright, false);
        if (share > 1 - Minority) return (Polarity.Dark, false);
        // Specks inside the classes have the most strongly curved outlines of all: smoothing takes them out first.
        var smooth = (float[])flat.Grey.Clone();
        GaussianSmoothing.Apply(smooth, flat.Columns, flat.Rows, SpeckSigma, CancellationToken.None);
        double bulge = BrightBulge(Above(smooth, OtsuThreshold.Find(GreyHistogram.Of(smooth))), flat.Columns, flat.Rows);
        return (bulge >= 0 ? Polarity.Bright : Polarity.Dark, Math.Abs(bulge) < 0.05);
    }

    private static float[] Above(float[] grey, double threshold) => [.. grey.Select(v => v > threshold ? 1f : 0f)];

    /// <summary>Share of the boundary that bulges from bright to dark less the share that bulges the other way, -1 to 1.</summary>
    private static double BrightBulge(float[] bright, int width, int height)
    {
        var blurred = (float[])bright.Clone();
        GaussianSmoothing.Apply(blurred, width, height, BulgeSigma, CancellationToken.None);
        long towardsDark = 0, towardsBright = 0;
        void Count(int i, int neighbour)
        {
            if (bright[i] == bright[neighbour]) return;
            float mean = 0.5f * (blurred[i] + blurred[neighbour]);
            if (mean < 0.49f) towardsDark++;
            else if (mean > 0.51f) towardsBright++;
        }
        for (int i = 0; i < bright.Length; i++)
        {
            if (i % width < width - 1) Count(i, i + 1);
            if (i + width < bright.Length) Count(i, i + width);
        }
        return towardsDark + towardsBright == 0 ? 0 : (double)(towardsDark - towardsBright) / (towardsDark + towardsBright);
    }
}
