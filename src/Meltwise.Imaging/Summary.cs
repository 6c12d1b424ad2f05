using System.Globalization;
using Meltwise.Imaging.Calibration;
using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using Meltwise.Imaging.Stereology;

namespace Meltwise.Imaging;

/// <summary>Turns the particles of a picture into its figures.</summary>
internal static class Summary
{
    private const int Parts = 4;
    private const double MostLeftOut = 0.05;

    public static PictureResult Of(MicrographFile file, SegmentedPicture picture, PictureScale scale, ScaleBarFound? bar, bool keepMasks, List<string> notes, IReadOnlyDictionary<string, double> seconds)
    {
        IReadOnlyList<Particle> particles = picture.Particles;
        Particle[] whole = [.. particles.Where(p => !p.Cut)];
        double pixels = picture.InspectedPixels, corrected = whole.Length + 0.5 * (particles.Count - whole.Length);
        double? um = scale.MicrometresPerPixel;
        PixelBox frame = picture.Plan.Inspected;
        SizeSummary? sizes = SizeSummary.Of(whole.Select(p => p.EquivalentDiameter));
        double smallest = Math.Sqrt(4 * picture.Plan.Settings.MinimumAreaPx / Math.PI);
        NoteLargestCut(particles, sizes, um, notes);
        if (picture.Plan.LeftOut.Pixels > MostLeftOut * frame.Area) notes.Add("More than 5 % of the frame is left out: clustering, which needs a whole frame, was not reckoned.");
        return new PictureResult
        {
            File = file.Path,
            Sha256 = file.Sha256,
            Metadata = file.Metadata,
            Scale = scale,
            ScaleBar = bar,
            InspectedPixels = picture.InspectedPixels,
            LeftOutPixels = picture.Plan.LeftOut.Pixels,
            InspectedAreaMm2 = um * um * pixels * 1e-6,
            AreaFraction = Fraction(picture),
            ThresholdBand = new(particles.Sum(p => p.AreaOneStepUp) / pixels, particles.Sum(p => p.AreaOneStepDown) / pixels),
            Count = particles.Count,
            CountInside = whole.Length,
            PerPixel = corrected / pixels,
            PerAreaMm2 = corrected / (pixels * um * um * 1e-6),
            DiameterPx = sizes,
            DiameterUm = um is { } u ? sizes?.Times(u) : null,
            Aspect = whole.Length > 0 ? whole.Average(p => p.Aspect) : null,
            Clustering = Cluster(picture, um ?? 1),
            MinimumDiameterPx = smallest,
            MinimumDiameterUm = smallest * um,
            Interceptions = frame.Area <= PictureSegmentation.MaxWindowPixels ? Interceptions.Of(picture) : null,
            ParticleList = keepMasks ? particles : [.. particles.Select(p => p with { Mask = [] })],
            Settings = picture.Plan.Settings,
            ThresholdCandidates = picture.Plan.Candidates,
            Seconds = seconds,
            Notes = notes,
        };
    }

    private static Clustering? Cluster(SegmentedPicture picture, double unit)
    {
        PixelBox frame = picture.Plan.Inspected;
        if (picture.Plan.LeftOut.Pixels > MostLeftOut * frame.Area) return null;
        return NearestNeighbours.Of([.. picture.Particles.Select(p => (p.X - frame.X) * unit)], [.. picture.Particles.Select(p => (p.Y - frame.Y) * unit)], frame.Width * unit, frame.Height * unit);
    }

    /// <summary>Area fraction with an interval from sixteen parts of the picture, a particle counting where its centroid lies.</summary>
    private static Interval Fraction(SegmentedPicture picture)
    {
        PixelBox frame = picture.Plan.Inspected;
        var part = new double[Parts * Parts];
        double total = 0;
        foreach (Particle p in picture.Particles)
        {
            int column = Math.Clamp((int)((p.X - frame.X) * Parts / frame.Width), 0, Parts - 1), row = Math.Clamp((int)((p.Y - frame.Y) * Parts / frame.Height), 0, Parts - 1);
            part[row * Parts + column] += p.Area;
            total += p.Area;
        }
        double fraction = total / picture.InspectedPixels;
        // Parts of which most is left out say little and would weigh as much as the others.
        double[] parts = [.. part.Select((a, k) => (Area: a, Inspected: PartPixels(picture, k))).Where(p => p.Inspected > 0.5 * frame.Area / part.Length).Select(p => p.Area / p.Inspected)];
        double half = parts.Length > 1 ? FieldMean.Of(parts).HalfWidth95 ?? 0 : 0;
        return new(fraction, Math.Max(0, fraction - half), Math.Min(1, fraction + half), 0.95, "Student t over sixteen parts of the picture; other fields of the same mount may differ more");
    }

    private static double PartPixels(SegmentedPicture picture, int part)
    {
        PixelBox frame = picture.Plan.Inspected;
        int x0 = frame.X + part % Parts * frame.Width / Parts, x1 = frame.X + (part % Parts + 1) * frame.Width / Parts;
        int y0 = frame.Y + part / Parts * frame.Height / Parts, y1 = frame.Y + (part / Parts + 1) * frame.Height / Parts;
        PixelBox box = new(x0, y0, x1 - x0, y1 - y0);
        return box.Area - picture.Plan.LeftOut.PixelsIn(box);
    }

    private static void NoteLargestCut(IReadOnlyList<Particle> particles, SizeSummary? sizes, double? um, List<string> notes)
    {
        Particle? cut = particles.Where(p => p.Cut).MaxBy(p => p.Area);
        if (cut is not null && cut.EquivalentDiameter > (sizes?.Largest ?? 0))
            notes.Add(string.Create(CultureInfo.InvariantCulture,
                $"A particle cut by the frame shows {cut.EquivalentDiameter * (um ?? 1):G4} {(um is null ? "px" : "micrometres")} of equivalent diameter: larger than the largest whole one."));
    }
}
