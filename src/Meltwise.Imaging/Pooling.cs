using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Stereology;

namespace Meltwise.Imaging;

/// <summary>Brings the pictures of one specimen together. Each picture is one field: the scatter between fields gives the interval.</summary>
internal static class Pooling
{
    public static PooledResult Of(IReadOnlyList<PictureResult> images)
    {
        FieldSummary fraction = FieldMean.Of([.. images.Select(i => i.AreaFraction.Estimate)]);
        bool scaled = images.All(i => i.Scale.MicrometresPerPixel is not null);
        double? area = scaled ? images.Sum(i => i.InspectedAreaMm2!.Value) : null;
        Particle[] whole = [.. images.SelectMany(i => i.ParticleList).Where(p => !p.Cut)];
        double[] ratios = [.. images.Where(i => i.Clustering is not null).Select(i => i.Clustering!.Ratio)];
        return new PooledResult
        {
            Fields = images.Count,
            InspectedAreaMm2 = area,
            AreaFraction = images.Count == 1 ? images[0].AreaFraction
                : new(fraction.Mean, Math.Max(0, fraction.Mean - fraction.HalfWidth95!.Value), Math.Min(1, fraction.Mean + fraction.HalfWidth95.Value), 0.95, "Student t over fields (ASTM E562, E1245)"),
            RelativeAccuracyPercent = fraction.RelativeAccuracyPercent,
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

    public static IReadOnlyList<string> Notes(IReadOnlyList<PictureResult> images)
    {
        List<string> notes = [];
        if (images.Count == 1) notes.Add("One field: the interval rests on the scatter within it and says nothing of other places of the specimen.");
        else if (images.Count < 30) notes.Add("Fewer than 30 fields: the interval between fields rests on few of them.");
        if (images.Select(i => i.Scale.MicrometresPerPixel).Distinct().Count() > 1)
            notes.Add("The pictures have different scales, so small particles were counted in some and not in others; compare only above the largest of the smallest diameters.");
        if (images.Select(i => i.InspectedPixels * (i.Scale.MicrometresPerPixel ?? 1) * (i.Scale.MicrometresPerPixel ?? 1)).Distinct().Count() > 1)
            notes.Add("The fields differ in area but count alike in the mean.");
        if (images.Select(i => i.Settings.Polarity).Distinct().Count() > 1)
            notes.Add("Bright particles were measured in some pictures and dark ones in others: state which are meant.");
        if (images.GroupBy(i => i.Sha256).Any(g => g.Count() > 1)) notes.Add("The same picture was given more than once.");
        return notes;
    }
}
