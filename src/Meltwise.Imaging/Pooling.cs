using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Stereology;

namespace Meltwise.Imaging;

/// <summary>Brings the pictures of one specimen together. Each picture is one field: the scatter between fields gives the interval.</summary>
internal static class Pooling
{
    public static PooledResult Of(IReadOnlyList<PictureResult> images, Func<string, string>? mountOf = null)
    {
        FieldSummary fraction = FieldMean.Of([.. images.Select(i => i.AreaFraction.Estimate)]);
        MountSummary? mounts = mountOf is null ? null : MountMean.Of([.. images.Select(i => i.AreaFraction.Estimate)], [.. images.Select(i => mountOf(i.File))]);
        bool scaled = images.All(i => i.Scale.MicrometresPerPixel is not null);
        double? area = scaled ? images.Sum(i => i.InspectedAreaMm2!.Value) : null;
        Particle[] whole = [.. images.SelectMany(i => i.ParticleList).Where(p => !p.Cut)];
        double[] ratios = [.. images.Where(i => i.Clustering is not null).Select(i => i.Clustering!.Ratio)];
        return new PooledResult
        {
            Fields = images.Count,
            InspectedAreaMm2 = area,
            Mounts = mounts,
            AreaFraction = images.Count == 1 ? images[0].AreaFraction
                : mounts is not null ? mounts.Mean with { Lower = Math.Max(0, mounts.Mean.Lower!.Value), Upper = Math.Min(1, mounts.Mean.Upper!.Value) }
                : new(fraction.Mean, Math.Max(0, fraction.Mean - fraction.HalfWidth95!.Value), Math.Min(1, fraction.Mean + fraction.HalfWidth95.Value), 0.95, "Student t over fields (ASTM E562, E1245)"),
            RelativeAccuracyPercent = mounts is not null ? mounts.RelativeAccuracyPercent : fraction.RelativeAccuracyPercent,
            ThresholdBand = new(images.Average(i => i.ThresholdBand.Lower), images.Average(i => i.ThresholdBand.Upper)),
            Count = images.Sum(i => i.Count),
            CountInside = images.Sum(i => i.CountInside),
            PerAreaMm2 = images.Sum(i => i.CountInside + 0.5 * (i.Count - i.CountInside)) / area,
            DiameterUm = scaled ? SizeSummary.Of(images.SelectMany(i => i.ParticleList.Where(p => !p.Cut).Select(p => p.EquivalentDiameter * i.Scale.MicrometresPerPixel!.Value))) : null,
            Aspect = whole.Length > 0 ? whole.Average(p => p.Aspect) : null,
            ClusteringRatio = ratios.Length > 0 ? ratios.Average() : null,
            MinimumDiameterUm = scaled ? images.Max(i => i.MinimumDiameterUm!.Value) : null,
        };
    }

    public static IReadOnlyList<string> Notes(IReadOnlyList<PictureResult> images, Func<string, string>? mountOf = null)
    {
        List<string> notes = [];
        if (images.Count == 1) notes.Add("One field: the interval rests on the scatter within it and says nothing of other places of the specimen.");
        else if (images.Count < 30) notes.Add("Fewer than 30 fields: the interval between fields rests on few of them.");
        if (images.Count > 1) notes.AddRange(Mounts(images, mountOf));
        if (images.Select(i => i.Scale.MicrometresPerPixel).Distinct().Count() > 1)
            notes.Add("The pictures have different scales, so small particles were counted in some and not in others; compare only above the largest of the smallest diameters.");
        if (images.Select(i => i.InspectedPixels * (i.Scale.MicrometresPerPixel ?? 1) * (i.Scale.MicrometresPerPixel ?? 1)).Distinct().Count() > 1)
            notes.Add("The fields differ in area but count alike in the mean.");
        if (images.Select(i => i.Settings.Polarity).Distinct().Count() > 1)
            notes.Add("Bright particles were measured in some pictures and dark ones in others: state which are meant.");
        if (images.GroupBy(i => i.Sha256).Any(g => g.Count() > 1)) notes.Add("The same picture was given more than once.");
        return notes;
    }

    private static IEnumerable<string> Mounts(IReadOnlyList<PictureResult> images, Func<string, string>? mountOf)
    {
        if (mountOf is null) return ["Mounts are not named: the interval holds the scatter from field to field only, and counts fields of one mount as independent."];
        MountSummary? mounts = MountMean.Of([.. images.Select(i => i.AreaFraction.Estimate)], [.. images.Select(i => mountOf(i.File))]);
        return mounts?.Notes ?? ["One mount, or one field a mount: the scatter from mount to mount cannot be told from that of the fields."];
    }
}
