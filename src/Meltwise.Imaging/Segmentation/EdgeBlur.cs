namespace Meltwise.Imaging.Segmentation;

/// <summary>How blurred the edges of a picture are, from the steepest slopes across the threshold.</summary>
/// <remarks>
/// <para><b>Formula.</b> A step of contrast C blurred by a Gaussian σ has the central difference C/2 · erf(1/(σ√2)) at its middle; σ is found from the upper-quartile slope of
/// the pixels near the threshold. The half-contrast outline of a particle of radius R then lies σ²/2R inside its true edge, which takes πσ² off its area whatever its size
/// or shape (the turning of a closed outline is 2π); measured areas are given that back.</para>
/// <para><b>Limits.</b> First order in σ/R: for particles less than about 4σ across the area is still low. σ is held to 0-3 px.</para>
/// <para><b>Source.</b> Displacement of blurred curved edges: H. Bouma, A. Vilanova, L. J. van Vliet, F. A. Gerritsen, IEEE Trans. Pattern Analysis and Machine Intelligence 27 (2005) 1501-1507.</para>
/// </remarks>
internal static class EdgeBlur
{
    /// <summary>The blur in pixels (standard deviation); 0 where no edge was met.</summary>
    public static double Estimate(PictureSamples samples, ContrastLevels levels)
    {
        float t = (float)levels.Middle, near = (float)(0.25 * levels.Contrast);
        List<float> slopes = [];
        for (int i = 0; i < samples.Grey.Length; i++)
            if (samples.Usable[i] && samples.Least[i] <= t && samples.Greatest[i] > t && Math.Abs(samples.Grey[i] - t) < near) slopes.Add(samples.Slope[i]);
        if (slopes.Count < 20 || levels.Contrast <= 0) return 0;
        slopes.Sort();
        double share = 2 * slopes[(int)(0.75 * slopes.Count)] / levels.Contrast;
        return Invert(share);
    }

    private static double Invert(double erf)
    {
        double low = 0.05, high = 3;
        for (int i = 0; i < 40; i++)
        {
            double sigma = 0.5 * (low + high);
            if (MathNet.Numerics.SpecialFunctions.Erf(1 / (sigma * Math.Sqrt(2))) > erf) low = sigma;
            else high = sigma;
        }
        return low < 0.06 ? 0 : 0.5 * (low + high);
    }
}
