namespace Meltwise.Casework.Demonstration;

/// <summary>Draws an invented micrograph: bright particles on a darker matrix with uneven light, blur and noise. Nothing here was seen in a microscope.</summary>
/// <remarks>Ellipses of lognormal diameter are laid down one by one at random places where none lies yet, until they cover the wanted share of the frame; a particle may be cut by the frame.</remarks>
internal sealed class MadeMicrograph(int width, int height, NormalDraws draws)
{
    private const double Matrix = 118, Contrast = 86, Noise = 4, Light = 9, BlurPx = 1.1, GapPx = 3;
    private const int Tries = 20_000;
    private readonly float[] _cover = new float[width * height];

    /// <summary>Grey levels row by row, 0 to 255.</summary>
    /// <param name="share">Share of the frame to cover.</param>
    /// <param name="medianPx">Median diameter, px.</param>
    /// <param name="logSd">Standard deviation of ln diameter.</param>
    public byte[] Draw(double share, double medianPx, double logSd)
    {
        Fill(share, medianPx, logSd);
        byte[] grey = new byte[width * height];
        double slope = draws.Next(0, 1);
        for (int y = 0, i = 0; y < height; y++)
            for (int x = 0; x < width; x++, i++)
            {
                double light = Light * (((2.0 * x / width) - 1) + (slope * ((2.0 * y / height) - 1))) / 2;
                grey[i] = (byte)Math.Clamp(Math.Round(Matrix + light + (Contrast * _cover[i]) + draws.Next(0, Noise)), 0, 255);
            }
        return grey;
    }

    private void Fill(double share, double medianPx, double logSd)
    {
        List<(double X, double Y, double Reach)> laid = [];
        double covered = 0, wanted = share * width * height;
        double diameter = Math.Exp(draws.Next(Math.Log(medianPx), logSd));
        for (int tries = 0; covered < wanted && tries < Tries; tries++)
        {
            double aspect = 1 + Math.Abs(draws.Next(0, 0.25)), major = diameter / 2 * Math.Sqrt(aspect), minor = diameter / 2 / Math.Sqrt(aspect);
            double x = draws.Unit() * width, y = draws.Unit() * height, angle = draws.Unit() * Math.PI;
            if (laid.Exists(p => ((p.X - x) * (p.X - x)) + ((p.Y - y) * (p.Y - y)) < (p.Reach + major + GapPx) * (p.Reach + major + GapPx))) continue;
            laid.Add((x, y, major));
            covered += Lay(x, y, major, minor, angle);
            diameter = Math.Exp(draws.Next(Math.Log(medianPx), logSd));
        }
    }

    private double Lay(double x, double y, double major, double minor, double angle)
    {
        (double sin, double cos) = Math.SinCos(angle);
        double sum = 0;
        for (int row = Math.Max(0, (int)(y - major - 2)); row <= Math.Min(height - 1, (int)(y + major + 2)); row++)
            for (int column = Math.Max(0, (int)(x - major - 2)); column <= Math.Min(width - 1, (int)(x + major + 2)); column++)
            {
                double dx = column + 0.5 - x, dy = row + 0.5 - y, u = ((dx * cos) + (dy * sin)) / major, v = ((dy * cos) - (dx * sin)) / minor;
                // First-order distance to the edge of the ellipse, in pixels.
                double q = Math.Sqrt((u * u) + (v * v)), slope = Math.Sqrt((u * u / (major * major)) + (v * v / (minor * minor))) / Math.Max(q, 1e-9);
                double inside = Math.Clamp(0.5 - ((q - 1) / Math.Max(slope, 1e-9) / (2 * BlurPx)), 0, 1);
                _cover[(row * width) + column] = Math.Max(_cover[(row * width) + column], (float)inside);
                sum += inside;
            }
        return sum;
    }
}
