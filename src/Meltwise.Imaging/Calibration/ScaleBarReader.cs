using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Calibration;

/// <summary>Finds the scale bar of a picture and reads its label: in a data strip, in a box, or drawn on the picture itself.</summary>
/// <remarks>
/// <para><b>Rule.</b> Places are looked at in that order (<see cref="ScaleBarPlaces"/>). A label belongs to a bar when it stands over, under or between the halves of the bar within three heights of its characters, or beside it within two.
/// The bar with the nearest label is taken; where two labels that differ are equally near, none is read. In a strip or a box a bar without a label is still found; on the picture itself a bar is only believed with its label, or when it is pure black or white.</para>
/// <para><b>Limits.</b> Level bars of at least 40 pixels and two rows; see <see cref="BarLabelReader"/>. A picture too large to be held whole is not searched.</para>
/// <para><b>Source.</b> Common practice, no source.</para>
/// </remarks>
public static class ScaleBarReader
{
    private const double FromBar = 3, Beside = 2;

    /// <summary>The strip or bar with its label, or null when there is none.</summary>
    /// <param name="source">The picture.</param>
    public static ScaleBarFound? Find(GreySource source)
    {
        ArgumentNullException.ThrowIfNull(source);
        if (source is not GreyPicture picture) return null;
        foreach (BarPlace place in ScaleBarPlaces.Of(picture))
        {
            List<BarCandidate> bars = place.Kind == PlaceKind.Drawn ? [Drawn(place.Map, place.Bar!.Value)] : BarCandidates.Of(place.Map);
            Pairing? best = Best(place.Map, bars);
            if (place.Kind == PlaceKind.Drawn)
            {
                if (best is not null || place.IsPure) return OnPicture(place, bars[0], best);
                continue;
            }
            BarCandidate? bar = best?.Bar ?? bars.FirstOrDefault();
            if (bar is null && place.Kind == PlaceKind.Box) continue;
            return new(place.Map.Area, place.Kind == PlaceKind.Strip, bar is null ? null : Line(place.Map, bar), best?.Label.Label);
        }
        return null;
    }

    /// <summary>The bar that led to a place; particles that touch it do not lengthen it.</summary>
    private static BarCandidate Drawn(InkMap map, PixelBox bar)
    {
        PixelBox line = Within(map, bar);
        return new(line, [.. map.Marks.Where(m => m.Runs.Any(r => r.Y >= line.Y && r.Y < line.Bottom && r.From < line.Right && r.To > line.X))]);
    }

    private static ScaleBarFound OnPicture(BarPlace place, BarCandidate bar, Pairing? best)
    {
        PixelBox area = InPicture(place.Map, bar.Line);
        foreach (Mark mark in bar.Marks.Where(m => m.Box.Width <= bar.Line.Width + 8)) area = Around(area, InPicture(place.Map, mark.Box));
        if (best is not null) area = Around(area, InPicture(place.Map, best.Label.Box));
        return new(area.Grow(3, place.Frame), false, Line(place.Map, bar), best?.Label.Label);
    }

    private static Pairing? Best(InkMap map, List<BarCandidate> bars)
    {
        List<Pairing> pairs = [];
        foreach (BarCandidate bar in bars)
            foreach (LabelFound label in BarLabelReader.Read(map, [.. bar.Marks]))
                if (Distance(bar.Line, label) is { } distance) pairs.Add(new(bar, label, distance));
        Pairing? best = pairs.OrderBy(p => p.Distance).ThenByDescending(p => p.Bar.Line.Width).FirstOrDefault();
        return best is not null && pairs.Any(p => p.Distance < best.Distance + 0.5 && p.Label.Label.Micrometres != best.Label.Label.Micrometres) ? null : best;
    }

    /// <summary>How far a label is from a bar in heights of its characters, or null when it belongs to another.</summary>
    private static double? Distance(PixelBox bar, LabelFound label)
    {
        double middle = label.Box.X + 0.5 * label.Box.Width, height = label.Height;
        double between = Math.Max(0, Math.Max(label.Box.Y - bar.Bottom, bar.Y - label.Box.Bottom)) / height;
        if (middle >= bar.X - 0.25 * bar.Width && middle <= bar.Right + 0.25 * bar.Width && between <= FromBar) return between + 0.2 * Math.Abs(middle - bar.X - 0.5 * bar.Width) / bar.Width;
        double beside = Math.Max(label.Box.X - bar.Right, bar.X - label.Box.Right) / height;
        return between == 0 && beside is >= 0 and <= Beside ? 1 + beside : null;
    }

    private static BarLine Line(InkMap map, BarCandidate bar)
    {
        double y = map.Area.Y + bar.Line.Y + 0.5 * bar.Line.Height;
        return new(new(map.Area.X + bar.Line.X, y), new(map.Area.X + bar.Line.Right, y));
    }

    private static PixelBox InPicture(InkMap map, PixelBox box) => box with { X = box.X + map.Area.X, Y = box.Y + map.Area.Y };

    private static PixelBox Within(InkMap map, PixelBox box) => box with { X = box.X - map.Area.X, Y = box.Y - map.Area.Y };

    private static PixelBox Around(PixelBox a, PixelBox b)
    {
        int x = Math.Min(a.X, b.X), y = Math.Min(a.Y, b.Y);
        return new(x, y, Math.Max(a.Right, b.Right) - x, Math.Max(a.Bottom, b.Bottom) - y);
    }

    private sealed record Pairing(BarCandidate Bar, LabelFound Label, double Distance);
}
