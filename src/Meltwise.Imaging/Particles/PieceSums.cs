namespace Meltwise.Imaging.Particles;

/// <summary>Running sums over the pixels of one particle.</summary>
internal struct PieceSums
{
    public int Pixels, Left, Right, Top, Bottom;
    public double SumX, SumY, SumXX, SumYY, SumXY, SumGrey;

    /// <summary>Area to add to the pixel count for shares of edge pixels, at the threshold and one grey-level step above and below it.</summary>
    public double Edge, EdgeUp, EdgeDown;

    public void Add(int x, int y, float grey)
    {
        if (Pixels == 0) (Left, Right, Top, Bottom) = (x, x, y, y);
        Pixels++;
        Left = Math.Min(Left, x);
        Right = Math.Max(Right, x);
        Bottom = y;
        SumX += x;
        SumY += y;
        SumXX += (double)x * x;
        SumYY += (double)y * y;
        SumXY += (double)x * y;
        SumGrey += grey;
    }

    /// <summary>Axes of the ellipse of equal second moments and the direction of the longer one, in degrees from +x towards +y.</summary>
    public readonly (double Major, double Minor, double AngleDegrees) Axes()
    {
        double mx = SumX / Pixels, my = SumY / Pixels;
        double xx = SumXX / Pixels - mx * mx + 1.0 / 12, yy = SumYY / Pixels - my * my + 1.0 / 12, xy = SumXY / Pixels - mx * my;
        double mean = 0.5 * (xx + yy), half = Math.Sqrt(0.25 * (xx - yy) * (xx - yy) + xy * xy);
        return (4 * Math.Sqrt(mean + half), 4 * Math.Sqrt(Math.Max(0, mean - half)), 0.5 * Math.Atan2(2 * xy, xx - yy) * 180 / Math.PI);
    }
}
