using System.Globalization;
using Meltwise.Imaging.Particles;

namespace Meltwise.Imaging.Segmentation;

/// <summary>Leaves out polishing scratches: long, thin, straight features.</summary>
/// <remarks>
/// <para><b>Rule.</b> Longer than 40 px, at least 12 times longer than their mean width (area over length), and straight: the smallest Feret diameter is below twice the mean width plus 3 px.</para>
/// <para><b>Limits.</b> Would drop a straight plate seen edge on; off unless asked for, and the number left out is noted.</para>
/// <para><b>Source.</b> Common practice, no source.</para>
/// </remarks>
internal static class ScratchRule
{
    public static void Remove(List<Particle> particles, List<string> notes)
    {
        int removed = particles.RemoveAll(IsScratch);
        if (removed > 0) notes.Add(string.Create(CultureInfo.InvariantCulture, $"{removed} long straight features were left out as scratches."));
    }

    private static bool IsScratch(Particle p)
    {
        double width = p.Area / p.FeretMax;
        return p.FeretMax > 40 && p.FeretMax > 12 * width && p.FeretMin < 2 * width + 3;
    }
}

/// <summary>Sorts particles into classes by their mean grey level, so that two kinds of carbide, or oxides and pores, are counted apart.</summary>
/// <remarks>
/// <para><b>Rule.</b> The levels between classes are those of <see cref="OtsuThreshold.FindMany"/> over the particles' mean levels.</para>
/// <para><b>Limits.</b> Edge pixels pull the mean of small particles towards the matrix. Ask for as many classes as the etch shows; one too many divides at random.</para>
/// </remarks>
internal static class GreyClassRule
{
    public static List<Particle> Assign(List<Particle> particles, int classes)
    {
        if (classes < 2 || particles.Count < classes) return particles;
        float[] levels = [.. particles.Select(p => (float)p.MeanGrey)];
        double[] limits = OtsuThreshold.FindMany(GreyHistogram.Of(levels), classes);
        return [.. particles.Select(p => p with { GreyClass = 1 + limits.Count(t => p.MeanGrey > t) })];
    }
}
