using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Calibration;

/// <summary>Finds a data strip or a boxed scale bar.</summary>
/// <remarks>
/// <para><b>Rule.</b> A strip is a set of neighbouring rows along the bottom or top edge, at least 12 rows and at most a fifth of the picture, in which 85 % of the pixels are within 12 grey levels of black or of white.
/// A boxed bar is a run of pure white (or black) of at least 40 pixels, in two to twelve rows, inside a box of the opposite extreme. Within either the bar is the longest level run;
/// two runs of like length in the same rows (a bar broken by its label) count from the first end to the last.</para>
/// <para><b>Limits.</b> The label is not read: its length must be stated. A bar drawn on the picture without a box is not found and must be marked by hand. Pictures above 48 megapixels are not searched.</para>
/// <para><b>Source.</b> Common practice, no source.</para>
/// </remarks>
internal static class ScaleBarFinder
{
    private const float Extreme = 12;
    private const double StripShare = 0.85;
    private const int LeastStrip = 12, LeastBar = 40, MostBarRows = 12;

    /// <summary>Looks for a strip, then for a boxed bar; null when neither is there.</summary>
    public static ScaleBarFound? Find(GreyPicture picture)
    {
        if (Strip(picture) is { } strip) return new(strip, true, BarIn(picture, strip));
        return Boxed(picture);
    }

    private static bool IsWhite(float v) => v >= 255 - Extreme;

    private static bool IsBlack(float v) => v <= Extreme;

    private static PixelBox? Strip(GreyPicture picture)
    {
        int bottom = 0, top = 0, most = picture.Height / 5;
        while (bottom < most && IsStripRow(picture, picture.Height - 1 - bottom)) bottom++;
        if (bottom >= LeastStrip && bottom < most) return new PixelBox(0, picture.Height - bottom, picture.Width, bottom);
        while (top < most && IsStripRow(picture, top)) top++;
        return top >= LeastStrip && top < most ? new PixelBox(0, 0, picture.Width, top) : null;
    }

    private static bool IsStripRow(GreyPicture picture, int y)
    {
        int extreme = 0;
        foreach (float v in picture.Grey.Slice(y * picture.Width, picture.Width))
            if (IsBlack(v) || IsWhite(v)) extreme++;
        return extreme >= StripShare * picture.Width;
    }

    /// <summary>Longest level run of the lighter or darker extreme in at least two rows of the area.</summary>
    private static BarLine? BarIn(GreyPicture picture, PixelBox area)
    {
        (double Length, BarLine? Line) best = (0, null);
        for (int y = area.Y; y + 1 < area.Bottom; y++)
        {
            List<(int From, int To)> runs = Runs(picture, area, y), next = Runs(picture, area, y + 1);
            runs = [.. runs.Where(r => next.Any(n => Math.Abs(n.From - r.From) <= 1 && Math.Abs(n.To - r.To) <= 1))];
            if (runs.Count == 0) continue;
            (int From, int To) longest = runs.MaxBy(r => r.To - r.From);
            int length = longest.To - longest.From;
            (int From, int To)[] halves = [.. runs.Where(r => r.To - r.From >= 0.7 * length)];
            (int From, int To) span = halves.Length == 2 ? (halves[0].From, halves[1].To) : longest;
            if (span.To - span.From > best.Length) best = (span.To - span.From, new(new(span.From, y + 1), new(span.To, y + 1)));
        }
        return best.Length >= LeastBar && best.Length < 0.95 * area.Width ? best.Line : null;
    }

    private static List<(int From, int To)> Runs(GreyPicture picture, PixelBox area, int y)
    {
        List<(int, int)> runs = [];
        int start = -1;
        for (int x = area.X; x <= area.Right; x++)
        {
            bool on = x < area.Right && picture[x, y] > 127.5f;
            if (on && start < 0) start = x;
            if (on || start < 0) continue;
            if (x - start >= LeastBar / 2) runs.Add((start, x));
            start = -1;
        }
        return runs;
    }

    private static ScaleBarFound? Boxed(GreyPicture picture)
    {
        PixelBox frame = picture.Frame;
        for (int y = 1; y + 2 < picture.Height; y++)
            foreach ((int from, int to) in WhiteRuns(picture, y))
            {
                if (!Level(picture, from, to, y + 1, IsWhite) || BarRows(picture, from, to, y) > MostBarRows) continue;
                PixelBox box = Box(picture, new PixelBox(from, y, to - from, BarRows(picture, from, to, y)));
                if (box.Width <= to - from + 2 || box.Area > frame.Area / 8) continue;
                return new(box, false, new(new PixelPoint(from, y + 1), new PixelPoint(to, y + 1)));
            }
        return null;
    }

    private static IEnumerable<(int From, int To)> WhiteRuns(GreyPicture picture, int y)
    {
        int start = -1;
        for (int x = 0; x <= picture.Width; x++)
        {
            bool on = x < picture.Width && picture[x, y] >= 250;
            if (on && start < 0) start = x;
            if (on || start < 0) continue;
            if (x - start >= LeastBar) yield return (start, x);
            start = -1;
        }
    }

    private static int BarRows(GreyPicture picture, int from, int to, int y)
    {
        int rows = 1;
        while (y + rows < picture.Height && rows <= MostBarRows && Level(picture, from, to, y + rows, IsWhite)) rows++;
        return rows;
    }

    private static bool Level(GreyPicture picture, int from, int to, int y, Func<float, bool> extreme)
    {
        int on = 0;
        for (int x = from; x < to; x++)
            if (extreme(picture[x, y])) on++;
        return on >= 0.98 * (to - from);
    }

    /// <summary>Grows from the bar while at least 70 % of the next row or column is black or white.</summary>
    private static PixelBox Box(GreyPicture picture, PixelBox bar)
    {
        int x0 = bar.X, x1 = bar.Right, y0 = bar.Y, y1 = bar.Bottom;
        bool grown = true;
        while (grown)
        {
            grown = false;
            if (x0 > 0 && Share(picture, x0 - 1, x0, y0, y1) >= 0.7) (x0, grown) = (x0 - 1, true);
            if (x1 < picture.Width && Share(picture, x1, x1 + 1, y0, y1) >= 0.7) (x1, grown) = (x1 + 1, true);
            if (y0 > 0 && Share(picture, x0, x1, y0 - 1, y0) >= 0.7) (y0, grown) = (y0 - 1, true);
            if (y1 < picture.Height && Share(picture, x0, x1, y1, y1 + 1) >= 0.7) (y1, grown) = (y1 + 1, true);
        }
        return new PixelBox(x0, y0, x1 - x0, y1 - y0);
    }

    private static double Share(GreyPicture picture, int x0, int x1, int y0, int y1)
    {
        int extreme = 0;
        for (int y = y0; y < y1; y++)
            for (int x = x0; x < x1; x++)
                if (IsBlack(picture[x, y]) || IsWhite(picture[x, y])) extreme++;
        return (double)extreme / ((x1 - x0) * (y1 - y0));
    }
}
