using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Tests;

/// <summary>Discs drawn with the coverage of each pixel found on 8 x 8 sub-pixels, on an even matrix.</summary>
internal sealed record DrawnDiscs(GreyPicture Picture, IReadOnlyList<(double X, double Y)> Centres)
{
    private const int Sub = 8, Matrix = 128, Spacing = 48, Across = 4;

    /// <summary>Sixteen discs on a square lattice, shifted by parts of a pixel.</summary>
    public static DrawnDiscs Lattice(double radius, double dx, double dy, double contrast)
    {
        int size = Spacing * Across;
        var grey = new float[size * size];
        Array.Fill(grey, Matrix);
        List<(double X, double Y)> centres = [];
        for (int k = 0; k < Across * Across; k++)
        {
            double x = k % Across * Spacing + Spacing / 2 + dx, y = k / Across * Spacing + Spacing / 2 + dy;
            centres.Add((x, y));
            for (int py = (int)(y - radius) - 1; py <= (int)(y + radius) + 1; py++)
                for (int px = (int)(x - radius) - 1; px <= (int)(x + radius) + 1; px++)
                    grey[py * size + px] += (float)(contrast * Coverage(px, py, x, y, radius));
        }
        return new(new GreyPicture(size, size, grey), centres);
    }

    private static double Coverage(int px, int py, double x, double y, double radius)
    {
        int inside = 0;
        for (int j = 0; j < Sub; j++)
            for (int i = 0; i < Sub; i++)
            {
                double ox = px + (i + 0.5) / Sub - x, oy = py + (j + 0.5) / Sub - y;
                if (ox * ox + oy * oy <= radius * radius) inside++;
            }
        return (double)inside / (Sub * Sub);
    }
}
