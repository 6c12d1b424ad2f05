using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Tests;

/// <summary>A quarter of the picture of the bench's race, made by the same recipe with other draws: 3 megapixels, uneven light that changes over short and long ways, 5,000 small dark discs, noise of 4 grey levels, whole levels.</summary>
internal static class RacePicture
{
    private const int Width = 2000, Height = 1500, Discs = 5000, Patch = 50;

    public static GreyPicture Draw()
    {
        Random draw = new(7);
        float[] grey = Light(draw);
        for (int k = 0; k < Discs; k++)
        {
            double x = 12 + draw.NextDouble() * (Width - 24), y = 12 + draw.NextDouble() * (Height - 24), radius = Math.Clamp(Math.Exp(Math.Log(4.2) + 0.28 * Normal(draw)), 2.2, 10);
            for (int j = (int)(y - radius - 2); j < (int)(y + radius + 3); j++)
                for (int i = (int)(x - radius - 2); i < (int)(x + radius + 3); i++)
                {
                    float inside = (float)Math.Clamp(radius + 0.5 - Math.Sqrt((i - x) * (i - x) + (j - y) * (j - y)), 0, 1);
                    grey[j * Width + i] = grey[j * Width + i] * (1 - inside) + 95 * inside;
                }
        }
        for (int i = 0; i < grey.Length; i++) grey[i] = MathF.Round((float)Math.Clamp(grey[i] + 4 * Normal(draw), 0, 255));
        return new(Width, Height, grey);
    }

    private static float[] Light(Random draw)
    {
        int columns = Width / Patch + 2, rows = Height / Patch + 2;
        double[] patch = [.. Enumerable.Range(0, columns * rows).Select(_ => 3 * Normal(draw))];
        var grey = new float[Width * Height];
        for (int y = 0; y < Height; y++)
            for (int x = 0; x < Width; x++)
            {
                int c = x / Patch, r = y / Patch;
                double u = x % Patch / (double)Patch, v = y % Patch / (double)Patch;
                double texture = (1 - v) * ((1 - u) * patch[r * columns + c] + u * patch[r * columns + c + 1]) + v * ((1 - u) * patch[(r + 1) * columns + c] + u * patch[(r + 1) * columns + c + 1]);
                grey[y * Width + x] = (float)(190 + 22 * Math.Sin(2.2 * x / Width + 0.4) * Math.Cos(1.7 * y / Height) + 10 * (x / (double)Width - 0.5) + texture);
            }
        return grey;
    }

    /// <summary>Near enough a normal number of SD 1.</summary>
    private static double Normal(Random draw) => draw.NextDouble() + draw.NextDouble() + draw.NextDouble() + draw.NextDouble() + draw.NextDouble() + draw.NextDouble()
        + draw.NextDouble() + draw.NextDouble() + draw.NextDouble() + draw.NextDouble() + draw.NextDouble() + draw.NextDouble() - 6;
}
