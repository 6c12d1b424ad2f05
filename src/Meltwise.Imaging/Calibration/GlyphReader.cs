using System.Globalization;
using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Calibration;

/// <summary>Tells which character a mark is, by the nearest of many rendered ones.</summary>
/// <remarks>
/// <para><b>Formula.</b> The mark's box is averaged down to 10 x 14 cells; the distance to a rendered character is the mean squared difference of the cells plus <see cref="AspectWeight"/> times the squared difference of ln(width / height) plus <see cref="HoleWeight"/> for each hole more or less.
/// The score is 1 - d1 / d2, d1 and d2 being the distances to the nearest character and to the nearest other one, and 0 where d1 exceeds <see cref="FarDistance"/>.</para>
/// <para><b>Limits.</b> Upright print of one ink. Characters that do not occur in lengths are among the rendered ones so that other text is not taken for digits; O, I, l, S, Z and B are not, being told from digits by context alone.</para>
/// <para><b>Source.</b> Nearest neighbour: T. M. Cover, P. E. Hart, IEEE Trans. Information Theory 13 (1967) 21-27. Rendered from 17 cuts of DejaVu, Liberation, Lato and Ysabeau Office at two to four sizes, with smoothed and some with hard edges (Glyphs.txt; licences in NOTICE).</para>
/// </remarks>
internal static class GlyphReader
{
    private const int Columns = 10, Rows = 14;
    private const double AspectWeight = 0.15, HoleWeight = 0.02;

    /// <summary>Distance beyond which a mark is no known character.</summary>
    public const double FarDistance = 0.14;

    private static readonly Lazy<Glyph[]> s_glyphs = new(Load);

    /// <summary>Reads the ink within a box of the map.</summary>
    public static GlyphRead Read(InkMap map, PixelBox box)
    {
        Span<float> cells = stackalloc float[Columns * Rows];
        Average(map, box, cells);
        double aspect = Math.Log((double)box.Width / box.Height);
        int holes = Holes(map, box);
        (char Sign, double Distance) best = (' ', double.MaxValue);
        double other = double.MaxValue;
        foreach (Glyph glyph in s_glyphs.Value)
        {
            double a = aspect - glyph.LogAspect;
            double distance = SquaredDifference(cells, glyph.Cells) / (Columns * Rows) + AspectWeight * a * a + HoleWeight * Math.Abs(holes - glyph.Holes);
            if (distance < best.Distance)
            {
                if (!Same(glyph.Sign, best.Sign)) other = best.Distance;
                best = (glyph.Sign, distance);
            }
            else if (distance < other && !Same(glyph.Sign, best.Sign)) other = distance;
        }
        return new(best.Sign, best.Distance, best.Distance > FarDistance ? 0 : 1 - best.Distance / other);
    }

    /// <summary>Summed one after the other, so that a label is read alike on every processor.</summary>
    private static double SquaredDifference(ReadOnlySpan<float> a, ReadOnlySpan<float> b)
    {
        double sum = 0;
        for (int i = 0; i < a.Length; i++)
        {
            double d = a[i] - b[i];
            sum += d * d;
        }
        return sum;
    }

    /// <summary>Both are written for micro.</summary>
    private static bool Same(char a, char b) => a == b || (a is 'u' or 'µ' && b is 'u' or 'µ');

    private static void Average(InkMap map, PixelBox box, Span<float> cells)
    {
        for (int r = 0; r < Rows; r++)
            for (int c = 0; c < Columns; c++)
                cells[r * Columns + c] = Mean(map, box.X + (double)c * box.Width / Columns, box.X + (c + 1.0) * box.Width / Columns, box.Y + (double)r * box.Height / Rows, box.Y + (r + 1.0) * box.Height / Rows);
    }

    private static float Mean(InkMap map, double x0, double x1, double y0, double y1)
    {
        double sum = 0;
        for (int y = (int)y0; y < y1 - 1e-9; y++)
            for (int x = (int)x0; x < x1 - 1e-9; x++)
                sum += map.Ink[y * map.Area.Width + x] * (Math.Min(x1, x + 1) - Math.Max(x0, x)) * (Math.Min(y1, y + 1) - Math.Max(y0, y));
        return (float)(sum / ((x1 - x0) * (y1 - y0)));
    }

    /// <summary>Pieces of ground of two pixels or more that the ink encloses.</summary>
    private static int Holes(InkMap map, PixelBox box)
    {
        var seen = new bool[box.Area];
        Stack<int> open = new();
        int holes = 0;
        for (int i = 0; i < seen.Length; i++)
        {
            if (seen[i] || On(i)) continue;
            (int pixels, bool enclosed) = (0, true);
            open.Push(i);
            seen[i] = true;
            while (open.TryPop(out int at))
            {
                pixels++;
                int x = at % box.Width, y = at / box.Width;
                enclosed &= x > 0 && y > 0 && x < box.Width - 1 && y < box.Height - 1;
                foreach ((int nx, int ny) in new[] { (x - 1, y), (x + 1, y), (x, y - 1), (x, y + 1) })
                    if (nx >= 0 && ny >= 0 && nx < box.Width && ny < box.Height && !seen[ny * box.Width + nx] && !On(ny * box.Width + nx))
                    {
                        seen[ny * box.Width + nx] = true;
                        open.Push(ny * box.Width + nx);
                    }
            }
            if (enclosed && pixels >= 2) holes++;
        }
        return holes;

        bool On(int i) => map.Ink[(box.Y + i / box.Width) * map.Area.Width + box.X + i % box.Width] > 0.5f;
    }

    private static Glyph[] Load()
    {
        using Stream stream = typeof(GlyphReader).Assembly.GetManifestResourceStream("Meltwise.Imaging.Calibration.Glyphs.txt")!;
        using StreamReader reader = new(stream);
        List<Glyph> glyphs = [];
        while (reader.ReadLine() is { } line)
        {
            string[] part = line.Split(' ');
            glyphs.Add(new(part[0][0], Math.Log(double.Parse(part[1], CultureInfo.InvariantCulture)), part[2][0] - '0', [.. part[3].Select(h => Convert.ToInt32(h.ToString(), 16) / 15f)]));
        }
        return [.. glyphs];
    }

    private sealed record Glyph(char Sign, double LogAspect, int Holes, float[] Cells);
}

/// <summary>A character as read.</summary>
/// <param name="Sign">The character.</param>
/// <param name="Distance">Distance to the nearest rendered one.</param>
/// <param name="Score">How much nearer it is than any other character, 0 to 1.</param>
internal readonly record struct GlyphRead(char Sign, double Distance, double Score);
