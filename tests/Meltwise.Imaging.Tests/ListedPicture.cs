using System.Globalization;
using System.Text.Json;
using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Tests;

/// <summary>A made picture drawn again from the list of its true shapes: matrix 70, particles 190, edges over a pixel and blurred with weights 1-2-1, noise of 3 grey levels, whole levels.</summary>
internal sealed record ListedPicture(JsonElement Truth, IReadOnlyList<ListedShape> Shapes, GreyPicture Picture)
{
    private const float Matrix = 70, Particle = 190;
    private const double Noise = 3;

    public static ListedPicture Draw(string name)
    {
        string folder = LabelPicture.Folder("made-micrographs");
        JsonElement truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(folder, name + ".json"))).RootElement;
        ListedShape[] shapes = [.. File.ReadAllLines(Path.Combine(folder, name + "_list.csv")).Skip(1).Select(ListedShape.Parse)];
        int width = truth.GetProperty("width").GetInt32(), height = truth.GetProperty("height").GetInt32();
        var grey = new float[width * height];
        Array.Fill(grey, Matrix);
        foreach (ListedShape shape in shapes) shape.Cover(width, height, (at, share) => grey[at] += share * (Particle - grey[at]));
        Blur(grey, width, height);
        Random draw = new(11);
        for (int i = 0; i < grey.Length; i++) grey[i] = MathF.Round((float)Math.Clamp(grey[i] + Noise * (Enumerable.Range(0, 12).Sum(_ => draw.NextDouble()) - 6), 0, 255));
        return new(truth, shapes, new(width, height, grey));
    }

    private static void Blur(float[] grey, int width, int height)
    {
        float[] copy = [.. grey];
        for (int y = 1; y < height - 1; y++)
            for (int x = 1; x < width - 1; x++)
            {
                int i = y * width + x;
                grey[i] = 0.25f * copy[i] + 0.125f * (copy[i - 1] + copy[i + 1] + copy[i - width] + copy[i + width]) + 0.0625f * (copy[i - width - 1] + copy[i - width + 1] + copy[i + width - 1] + copy[i + width + 1]);
            }
    }
}

/// <summary>An ellipse: centre, semi-axes, angle from +x towards +y, whether the frame cuts it. Lengths in pixels.</summary>
internal sealed record ListedShape(double X, double Y, double A, double B, double AngleDegrees, bool Cut)
{
    private const int Sub = 4;

    public static ListedShape Parse(string line)
    {
        double[] v = [.. line.Split(',').Select(f => double.Parse(f, CultureInfo.InvariantCulture))];
        return new(v[0], v[1], v[2], v[3], v[4], v[5] > 0);
    }

    public double Diameter => 2 * Math.Sqrt(A * B);

    /// <summary>Tells the share of each pixel that the ellipse covers, from 4 x 4 points in it.</summary>
    public void Cover(int width, int height, Action<int, float> share)
    {
        (double sin, double cos) = Math.SinCos(AngleDegrees * Math.PI / 180);
        for (int y = Math.Max(0, (int)(Y - A - 1)); y < Math.Min(height, Y + A + 1); y++)
            for (int x = Math.Max(0, (int)(X - A - 1)); x < Math.Min(width, X + A + 1); x++)
            {
                int inside = 0;
                for (int k = 0; k < Sub * Sub; k++)
                {
                    double dx = x + (k % Sub + 0.5) / Sub - X, dy = y + (k / Sub + 0.5) / Sub - Y, u = (dx * cos + dy * sin) / A, v = (dy * cos - dx * sin) / B;
                    if (u * u + v * v <= 1) inside++;
                }
                if (inside > 0) share(y * width + x, inside / (float)(Sub * Sub));
            }
    }
}
