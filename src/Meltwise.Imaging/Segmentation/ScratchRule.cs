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
