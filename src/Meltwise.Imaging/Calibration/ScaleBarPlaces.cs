using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Calibration;

/// <summary>Where a scale bar may be.</summary>
internal enum PlaceKind
{
    /// <summary>A strip along the bottom or top edge.</summary>
    Strip,

    /// <summary>A box of one level inside the picture.</summary>
    Box,

    /// <summary>Drawn on the picture itself.</summary>
    Drawn,
}

/// <summary>A place where a scale bar may be.</summary>
/// <param name="Kind">Kind of place.</param>
/// <param name="Map">Its ink.</param>
/// <param name="Frame">The picture's frame.</param>
/// <param name="IsPure">Whether the bar is pure black or white.</param>
/// <param name="Bar">The bar that led there, in pixels of the picture; null for a strip.</param>
internal sealed record BarPlace(PlaceKind Kind, InkMap Map, PixelBox Frame, bool IsPure, PixelBox? Bar);

/// <summary>Finds the places where a scale bar may be: a data strip, a box, or level bars drawn on the picture.</summary>
/// <remarks>
/// <para><b>Rule.</b> A strip is a set of neighbouring rows along the bottom or top edge, at least 12 rows and at most a fifth of the picture, in which 85 % of the pixels are within 12 grey levels of black or of white, or half of them have the one level of the outermost row.
/// A bar is a rectangle of one level, 40 pixels or longer, 2 to 40 rows thick, with ends within a pixel of each other in all its rows, whose surroundings differ by more than 40 grey levels. It is boxed when what surrounds it is black or white as far as a box that is no larger than an eighth of the picture.</para>
/// <para><b>Limits.</b> A noise of more than about 4 grey levels hides bars drawn on the picture.</para>
/// <para><b>Source.</b> Common practice, no source.</para>
/// </remarks>
internal static class ScaleBarPlaces
{
    private const float Extreme = 12, Alike = 14, Different = 40;
    private const double StripShare = 0.85, GroundShare = 0.5;
    private const int LeastStrip = 12, Beyond = 8, MostRows = 40, MostDrawn = 60;

    /// <summary>The places, the likeliest first.</summary>
    public static IEnumerable<BarPlace> Of(GreyPicture picture)
    {
        if (picture.Width < BarCandidates.LeastBar || picture.Height < 5 * LeastStrip) yield break;
        if (Strip(picture) is { } strip) yield return new(PlaceKind.Strip, InkMap.OnGround(picture, strip, Ground(picture, strip)), picture.Frame, true, null);
        PixelBox[] bars = [.. LevelBars(picture).Take(MostDrawn)];
        foreach (PixelBox bar in bars)
            if (Box(picture, bar) is { } box) yield return new(PlaceKind.Box, InkMap.OnGround(picture, box, Ground(picture, box)), picture.Frame, true, bar);
        foreach (PixelBox bar in bars)
        {
            float level = picture[bar.X + bar.Width / 2, bar.Y + bar.Height / 2];
            PixelBox around = new PixelBox(bar.X - bar.Width / 2, bar.Y - Around(bar), 2 * bar.Width, bar.Height + 2 * Around(bar)).Intersect(picture.Frame);
            // The edges of characters fade to the ground, but particles lie between ground and ink: thinner ink is tried where thicker runs into them.
            float contrast = Math.Abs(level - Ground(picture, around));
            foreach (float fade in new[] { contrast, 0.6f * contrast }.Where(f => f > Different))
                yield return new(PlaceKind.Drawn, InkMap.OfLevel(picture, around, level, fade), picture.Frame, level is <= 3 or >= 252 && fade < contrast, bar);
        }
    }

    private static int Around(PixelBox bar) => Math.Clamp(bar.Width, 60, 240);

    private static PixelBox? Strip(GreyPicture picture)
    {
        int most = picture.Height / 5, bottom = Rows(picture, picture.Height - 1, -1, most), top = bottom >= LeastStrip && bottom < most ? 0 : Rows(picture, 0, 1, most);
        if (bottom >= LeastStrip && bottom < most) return new PixelBox(0, picture.Height - bottom, picture.Width, bottom);
        return top >= LeastStrip && top < most ? new PixelBox(0, 0, picture.Width, top) : null;
    }

    private static int Rows(GreyPicture picture, int first, int step, int most)
    {
        float ground = Median(picture.Grey.Slice((first + 2 * step) * picture.Width, picture.Width));
        int rows = 0;
        while (rows < most && Shares(picture, first + rows * step, ground) is var (extreme, level) && (extreme >= StripShare || level >= GroundShare)) rows++;
        if (rows >= most || Shares(picture, first + Math.Min(2, rows) * step, ground).Extreme >= StripShare) return rows;
        // A strip of a level of its own ends sharply; the matrix of a picture goes on.
        return Enumerable.Range(0, Beyond).All(k => Shares(picture, first + (rows + k) * step, ground).Level <= 0.5 * GroundShare) ? rows : 0;
    }

    /// <summary>Share of a row that is black or white, and share that has the level of the ground.</summary>
    private static (double Extreme, double Level) Shares(GreyPicture picture, int y, float ground)
    {
        int extreme = 0, level = 0;
        foreach (float v in picture.Grey.Slice(y * picture.Width, picture.Width))
        {
            if (v is <= Extreme or >= 255 - Extreme) extreme++;
            if (Math.Abs(v - ground) <= 3) level++;
        }
        return ((double)extreme / picture.Width, (double)level / picture.Width);
    }

    private static float Ground(GreyPicture picture, PixelBox area)
    {
        var levels = new float[area.Area];
        picture.Read(area, levels);
        return Median(levels);
    }

    private static float Median(ReadOnlySpan<float> values)
    {
        float[] sorted = values.ToArray();
        Array.Sort(sorted);
        return sorted[sorted.Length / 2];
    }

    /// <summary>Rectangles of one level, in raster order of their upper left corner.</summary>
    private static IEnumerable<PixelBox> LevelBars(GreyPicture picture)
    {
        var rows = new List<PixelBox>[picture.Height];
        Segmentation.RowBands.Run(picture.Height, (from, to) =>
        {
            for (int y = from; y < to; y++)
            {
                List<PixelBox> found = [];
                for (int x = 0; x < picture.Width;)
                {
                    int end = RunEnd(picture, x, y);
                    if (end - x >= BarCandidates.LeastBar && end - x < picture.Width - 2 && Bar(picture, x, end, y) is { } bar) found.Add(bar);
                    x = end;
                }
                rows[y] = found;
            }
        }, CancellationToken.None);
        return rows.SelectMany(r => r);
    }

    /// <summary>End of the run of one level that starts at a pixel; two pixels that differ, as noise makes them, do not end it.</summary>
    private static int RunEnd(GreyPicture picture, int x, int y)
    {
        ReadOnlySpan<float> row = picture.Grey.Slice(y * picture.Width, picture.Width);
        float level = row[x];
        int end = x + 1;
        while (end < row.Length)
        {
            if (Math.Abs(row[end] - level) <= Alike) end++;
            else if (end + 3 < row.Length && Math.Abs(row[end + 1] - level) <= Alike && Math.Abs(row[end + 2] - level) <= Alike && Math.Abs(row[end] - level) <= 2 * Alike) end += 2;
            else break;
        }
        return end;
    }

    private static PixelBox? Bar(GreyPicture picture, int from, int to, int y)
    {
        float level = picture[(from + to) / 2, y];
        if (y == 0 || Share(picture, from, to, y - 1, level, Different) > 0.3) return null;
        int rows = 1;
        while (rows <= MostRows && y + rows < picture.Height && Share(picture, from, to, y + rows, level, 2 * Alike) >= 0.98) rows++;
        if (rows < 2 || rows > Math.Min(MostRows, (to - from) / 4) || y + rows >= picture.Height) return null;
        // Ticks at the ends and characters that touch the bar are alike; the rest below is not.
        if (Share(picture, from, to, y + rows, level, Different) > 0.3) return null;
        for (int r = 0; r < rows; r++)
            if (!IsEnd(picture, from - 2, y + r, level) || !IsEnd(picture, to + 1, y + r, level)) return null;
        return new PixelBox(from, y, to - from, rows);
    }

    private static bool IsEnd(GreyPicture picture, int x, int y, float level) => x >= 0 && x < picture.Width && Math.Abs(picture[x, y] - level) > Different / 2;

    /// <summary>Share of the pixels of a stretch that are within a distance of a level.</summary>
    private static double Share(GreyPicture picture, int from, int to, int y, float level, float within)
    {
        int alike = 0;
        foreach (float v in picture.Grey.Slice(y * picture.Width + from, to - from))
            if (Math.Abs(v - level) <= within) alike++;
        return (double)alike / (to - from);
    }

    /// <summary>Grows from the bar while at least 70 % of the next row or column is black or white; null when the bar is not boxed.</summary>
    private static PixelBox? Box(GreyPicture picture, PixelBox bar)
    {
        int x0 = bar.X, x1 = bar.Right, y0 = bar.Y, y1 = bar.Bottom;
        bool grown = true;
        while (grown && (long)(x1 - x0) * (y1 - y0) <= picture.Frame.Area / 8)
        {
            grown = false;
            if (x0 > 0 && Pure(picture, x0 - 1, x0, y0, y1) >= 0.7) (x0, grown) = (x0 - 1, true);
            if (x1 < picture.Width && Pure(picture, x1, x1 + 1, y0, y1) >= 0.7) (x1, grown) = (x1 + 1, true);
            if (y0 > 0 && Pure(picture, x0, x1, y0 - 1, y0) >= 0.7) (y0, grown) = (y0 - 1, true);
            if (y1 < picture.Height && Pure(picture, x0, x1, y1, y1 + 1) >= 0.7) (y1, grown) = (y1 + 1, true);
        }
        PixelBox box = new(x0, y0, x1 - x0, y1 - y0);
        return box.Width > bar.Width + 2 && box.Height > bar.Height + 2 && box.Area <= picture.Frame.Area / 8 ? box : null;
    }

    private static double Pure(GreyPicture picture, int x0, int x1, int y0, int y1)
    {
        int extreme = 0;
        for (int y = y0; y < y1; y++)
            for (int x = x0; x < x1; x++)
                if (picture[x, y] is <= Extreme or >= 255 - Extreme) extreme++;
        return (double)extreme / ((x1 - x0) * (y1 - y0));
    }
}
