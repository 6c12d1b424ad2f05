using System.Globalization;
using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Every particle of a truth mask against the region properties of scikit-image 0.19 (Oracles/scikit-image): measuring apart from segmenting.</summary>
public sealed class ParticleMeasuresTests
{
    [Fact]
    public void Masks_are_measured_as_by_region_properties()
    {
        LabelPicture mask = LabelPicture.Read(Path.Combine(LabelPicture.Folder("made-micrographs"), "discs_af10_labels.png"));
        List<Dictionary<string, double>> oracle = ReadTable("discs_af10_labels.csv");
        GreyPicture picture = new(mask.Width, mask.Height, [.. mask.Labels.Select(v => v > 0 ? 200f : 50f)]);
        SegmentationPlan plan = SegmentationPlan.For(picture, picture.Frame, new SegmentationSettings { Level = 125, Flatten = false, SmoothingPx = 0, Split = false, FillHoles = false, MinimumAreaPx = 1, Polarity = Polarity.Bright }, TestContext.Current.CancellationToken);
        IReadOnlyList<Particle> found = PictureSegmentation.Run(picture, plan, cancel: TestContext.Current.CancellationToken).Particles;
        int compared = 0;
        foreach (Dictionary<string, double> row in oracle)
        {
            // Centroids of the oracle are pixel indices; ours are places, half a pixel more.
            Particle? p = found.FirstOrDefault(p => Math.Abs(p.X - row["centroid-1"] - 0.5) < 0.01 && Math.Abs(p.Y - row["centroid-0"] - 0.5) < 0.01);
            if (p is null || p.Pixels != (int)row["area"] || p.Pixels < 9) continue;
            compared++;
            // This version of the oracle leaves out the 1/12 that each pixel adds to a second moment for its own extent.
            Assert.Equal(row["major_axis_length"], Math.Sqrt(p.MajorAxis * p.MajorAxis - 16.0 / 12), 1e-4 * p.MajorAxis);
            Assert.Equal(row["minor_axis_length"], Math.Sqrt(p.MinorAxis * p.MinorAxis - 16.0 / 12), 1e-4 * p.MinorAxis);
            Assert.Equal(row["edge"] > 0, p.Cut);
            // The oracle takes the outline through the middles of edge pixels' sides, ours the pixel corners, but it draws the convex hull in pixels first: within a pixel at one end and half a pixel the other way.
            Assert.InRange(p.FeretMax - row["feret_diameter_max"], -0.5, 1.5);
            if (row["eccentricity"] > 0.5) Assert.Equal(0, Math.Sin((p.AngleDegrees * Math.PI / 180) + row["orientation"] - Math.PI / 2), 1e-3);
        }
        // Particles below 9 px are left aside, and those of the truth that touch by a corner are one region here.
        Assert.InRange(compared, oracle.Count - 12, oracle.Count);
    }

    private static List<Dictionary<string, double>> ReadTable(string name)
    {
        string[] lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "Oracles", "scikit-image", name));
        string[] head = lines[0].Split(',');
        return [.. lines.Skip(1).Select(l => l.Split(',').Select((t, i) => (head[i], double.Parse(t, CultureInfo.InvariantCulture))).ToDictionary(c => c.Item1, c => c.Item2))];
    }
}
