using System.Globalization;

namespace Meltwise.Imaging.Particles;

/// <summary>Writes particles as a table: one row a particle, comma separated, lengths in micrometres where the scale is known and in pixels otherwise.</summary>
public static class ParticleTable
{
    /// <summary>Writes the table.</summary>
    /// <param name="writer">Where to.</param>
    /// <param name="particles">The particles.</param>
    /// <param name="micrometresPerPixel">Size of a pixel, or null.</param>
    public static void Write(TextWriter writer, IEnumerable<Particle> particles, double? micrometresPerPixel)
    {
        ArgumentNullException.ThrowIfNull(writer);
        ArgumentNullException.ThrowIfNull(particles);
        double u = micrometresPerPixel ?? 1;
        string unit = micrometresPerPixel is null ? "px" : "um";
        writer.Write(string.Create(CultureInfo.InvariantCulture,
            $"number,x [{unit}],y [{unit}],area [{unit}2],equivalent diameter [{unit}],Feret max [{unit}],Feret min [{unit}],major axis [{unit}],minor axis [{unit}],aspect,angle [deg],mean grey,grey class,cut by frame\n"));
        foreach (Particle p in particles)
            writer.Write(string.Create(CultureInfo.InvariantCulture,
                $"{p.Number},{p.X * u:G7},{p.Y * u:G7},{p.Area * u * u:G7},{p.EquivalentDiameter * u:G7},{p.FeretMax * u:G7},{p.FeretMin * u:G7},{p.MajorAxis * u:G7},{p.MinorAxis * u:G7},{p.Aspect:G5},{p.AngleDegrees:G5},{p.MeanGrey:G5},{p.GreyClass},{(p.Cut ? "yes" : "no")}\n"));
    }
}
