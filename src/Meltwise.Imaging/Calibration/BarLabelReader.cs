using System.Globalization;
using System.Text.RegularExpressions;
using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Calibration;

/// <summary>Reads lengths such as <c>50 µm</c> or <c>1.0 mm</c> among the marks of a map.</summary>
/// <remarks>
/// <para><b>Rule.</b> Marks of like height in one line and near each other are a text. Each is read by <see cref="GlyphReader"/>; a wide mark is also tried as two or more characters run together, and the reading of least distance is kept.
/// A length is digits, with a point or not, and one of µm, um, nm, mm. It is refused unless every character scores at least <see cref="LeastScore"/> and the number is one that bars bear: 1, 1.5, 2, 2.5, 3, 4, 5, 6, 7.5 or 8 times a power of ten.</para>
/// <para><b>Limits.</b> Characters at least 7 pixels high, upright, not cut by lines.</para>
/// <para><b>Source.</b> Common practice, no source.</para>
/// </remarks>
internal static partial class BarLabelReader
{
    /// <summary>Least score of the weakest character.</summary>
    public const double LeastScore = 0.25;

    private const int LeastHeight = 7;
    private const double MostGap = 1.7, DotHeight = 0.34, DotWidth = 0.45, WideAspect = 0.72, Sure = 0.05, CutCost = 0.03, UnitGain = 0.04;

    private static readonly double[] s_usual = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 7.5, 8];

    /// <summary>The lengths found, with their boxes in pixels of the map.</summary>
    /// <param name="map">The map.</param>
    /// <param name="without">Marks that are no text, such as the bar.</param>
    public static List<LabelFound> Read(InkMap map, IReadOnlyCollection<Mark> without)
    {
        PixelBox[] boxes = [.. map.Marks.Where(m => !without.Contains(m) && IsGlyph(m)).Select(m => m.Box).OrderBy(b => b.X)];
        List<LabelFound> found = [];
        foreach (List<PixelBox> line in Lines(boxes))
        {
            List<Sign> signs = Signs(map, line);
            string text = string.Concat(signs.Select(s => s.Read.Sign));
            foreach (Match match in Length().Matches(text))
                if (Understand(match, [.. signs.Skip(match.Index).Take(match.Length)]) is { } label) found.Add(label);
        }
        return found;
    }

    private static bool IsGlyph(Mark m) => m.Box.Height >= 2 && m.Box.Width <= 6 * m.Box.Height && m.Pixels > 0.12 * m.Box.Area;

    private static List<List<PixelBox>> Lines(PixelBox[] boxes)
    {
        List<List<PixelBox>> lines = [];
        foreach (PixelBox box in boxes)
        {
            List<PixelBox>? line = lines.LastOrDefault(l => Follows(l, box));
            if (line is null) lines.Add(line = []);
            line.Add(box);
        }
        return [.. lines.Where(l => l.Count >= 2 && l.Max(b => b.Height) >= LeastHeight)];
    }

    private static bool Follows(List<PixelBox> line, PixelBox box)
    {
        PixelBox last = line[^1];
        int tall = line.Max(b => b.Height), top = line.Min(b => b.Y), bottom = line.Max(b => b.Bottom);
        int height = Math.Max(tall, box.Height), gap = box.X - last.Right;
        if (gap > MostGap * height || gap < -0.3 * height || height < LeastHeight) return false;
        int overlap = Math.Min(bottom, box.Bottom) - Math.Max(top, box.Y);
        bool likeHeight = box.Height < 1.6 * tall && tall < 1.6 * box.Height;
        return overlap >= 0.7 * Math.Min(box.Height, bottom - top) && (likeHeight || box.Height < DotHeight * tall || tall < DotHeight * box.Height);
    }

    private static List<Sign> Signs(InkMap map, List<PixelBox> line)
    {
        int height = line.Max(b => b.Height), bottom = line.Where(b => b.Height > 0.5 * height).Min(b => b.Bottom);
        List<Sign> signs = [];
        foreach (PixelBox box in line)
            if (box.Height < DotHeight * height) signs.Add(new(new GlyphRead(IsPoint(box, height, bottom) ? '.' : '-', 0, 1), box));
            else signs.AddRange(Best(map, box, 4).Signs);
        return signs;
    }

    private static bool IsPoint(PixelBox box, int height, int baseline) => box.Width < DotWidth * height && box.Y > baseline - 0.5 * height && Math.Abs(box.Bottom - baseline) <= Math.Max(2, 0.2 * height);

    /// <summary>The mark as one character, or as several run together where that is nearer.</summary>
    private static (double Cost, List<Sign> Signs) Best(InkMap map, PixelBox box, int most)
    {
        GlyphRead whole = GlyphReader.Read(map, box);
        (double Cost, List<Sign> Signs) best = (whole.Distance, [new(whole, box)]);
        if (most < 2 || box.Width < WideAspect * box.Height || whole.Distance < Sure) return best;
        foreach (int cut in Cuts(map, box))
        {
            PixelBox left = Tight(map, box with { Width = cut }), right = Tight(map, new(box.X + cut, box.Y, box.Width - cut, box.Height));
            if (left.Area == 0 || right.Area == 0) continue;
            GlyphRead first = GlyphReader.Read(map, left);
            (double cost, List<Sign> rest) = Best(map, right, most - 1);
            // The only marks expected to run together are the two letters of a unit.
            double both = Math.Max(first.Distance, cost) + CutCost - (first.Sign is 'u' or 'µ' or 'n' or 'm' && rest is [{ Read.Sign: 'm' }] ? UnitGain : 0);
            if (both < best.Cost) best = (both, [new(first, left), .. rest]);
        }
        return best;
    }

    /// <summary>Columns with the least ink, where characters may touch.</summary>
    private static IEnumerable<int> Cuts(InkMap map, PixelBox box)
    {
        double[] ink = [.. Enumerable.Range(0, box.Width).Select(x => Enumerable.Range(0, box.Height).Sum(y => (double)map.Ink[(box.Y + y) * map.Area.Width + box.X + x]))];
        int least = Math.Max(2, (int)(0.2 * box.Height));
        return Enumerable.Range(least, Math.Max(0, box.Width - 2 * least)).Where(x => ink[x] <= ink[x - 1] && ink[x] <= ink[x + 1] && ink[x] < 0.45 * box.Height).OrderBy(x => ink[x]).Take(6);
    }

    /// <summary>The box drawn in to its ink.</summary>
    private static PixelBox Tight(InkMap map, PixelBox box)
    {
        bool On(int x, int y) => map.Ink[y * map.Area.Width + x] > 0.5f;
        int[] columns = [.. Enumerable.Range(box.X, box.Width).Where(x => Enumerable.Range(box.Y, box.Height).Any(y => On(x, y)))];
        int[] rows = [.. Enumerable.Range(box.Y, box.Height).Where(y => Enumerable.Range(box.X, box.Width).Any(x => On(x, y)))];
        return columns.Length == 0 ? default : new(columns[0], rows[0], columns[^1] - columns[0] + 1, rows[^1] - rows[0] + 1);
    }

    private static LabelFound? Understand(Match match, Sign[] signs)
    {
        double score = signs.Min(s => s.Read.Score), number = double.Parse(match.Groups["number"].Value, CultureInfo.InvariantCulture);
        if (score < LeastScore || !(number > 0) || !IsUsual(number) || HasWideGap(signs, match.Groups["number"].Length)) return null;
        (string unit, double micrometres) = match.Groups["unit"].Value[0] switch { 'n' => ("nm", 1e-3), 'm' => ("mm", 1e3), _ => ("µm", 1.0) };
        int left = signs.Min(s => s.Box.X), top = signs.Min(s => s.Box.Y);
        PixelBox box = new(left, top, signs.Max(s => s.Box.Right) - left, signs.Max(s => s.Box.Bottom) - top);
        return new(new($"{match.Groups["number"].Value} {unit}", number * micrometres, Math.Round(score, 2)), box, signs.Max(s => s.Box.Height));
    }

    private static bool IsUsual(double number)
    {
        double leading = number / Math.Pow(10, Math.Floor(Math.Log10(number) + 1e-9));
        return s_usual.Any(u => Math.Abs(u - leading) < 1e-6);
    }

    /// <summary>Digits of one number stand closer than words do.</summary>
    private static bool HasWideGap(Sign[] signs, int digits)
    {
        int height = signs.Max(s => s.Box.Height);
        return Enumerable.Range(1, digits - 1).Any(i => signs[i].Box.X - signs[i - 1].Box.Right > 0.6 * height);
    }

    [GeneratedRegex(@"(?<![0-9.])(?<number>[0-9]+(\.[0-9]+)?)(?<unit>[uµnm]m)(?![a-z0-9])", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Length();

    private sealed record Sign(GlyphRead Read, PixelBox Box);
}

/// <summary>A length found among the marks of a map.</summary>
/// <param name="Label">What it says.</param>
/// <param name="Box">Its pixels in the map.</param>
/// <param name="Height">Height of its tallest character.</param>
internal sealed record LabelFound(BarLabel Label, PixelBox Box, int Height);
