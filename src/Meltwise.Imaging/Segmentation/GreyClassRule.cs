using Meltwise.Imaging.Particles;

namespace Meltwise.Imaging.Segmentation;

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
