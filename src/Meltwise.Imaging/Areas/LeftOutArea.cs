using System.Globalization;
using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Areas;

/// <summary>An area left out of the inspected area for a stated reason: a polygon, rectangles included. A pixel belongs to it when its middle lies inside (even-odd rule).</summary>
/// <param name="Corners">The corners in turn, at least three; the outline closes by itself.</param>
/// <param name="Reason">Why it is left out, such as a scratch, a stain or a burned-in bar.</param>
/// <param name="Picture">SHA-256 of the picture it was marked on; null for every picture measured.</param>
public sealed record LeftOutArea(IReadOnlyList<PixelPoint> Corners, string Reason, string? Picture = null)
{
    /// <summary>A rectangle of whole pixels.</summary>
    /// <param name="box">The rectangle.</param>
    /// <param name="reason">Why it is left out.</param>
    /// <param name="picture">SHA-256 of the picture it was marked on; null for every picture.</param>
    public static LeftOutArea Rectangle(PixelBox box, string reason, string? picture = null) =>
        new([new(box.X, box.Y), new(box.Right, box.Y), new(box.Right, box.Bottom), new(box.X, box.Bottom)], reason, picture);

    /// <summary>Reads <c>x,y,width,height: reason</c> (a rectangle) or <c>x,y x,y x,y ...: reason</c> (a polygon), in pixels.</summary>
    /// <param name="text">The text.</param>
    /// <param name="area">The area read.</param>
    /// <returns>What is wrong with the text, or null when it was read.</returns>
    public static string? TryRead(string text, out LeftOutArea? area)
    {
        ArgumentNullException.ThrowIfNull(text);
        area = null;
        int colon = text.IndexOf(':', StringComparison.Ordinal);
        string reason = colon < 0 ? "" : text[(colon + 1)..].Trim();
        if (reason.Length == 0) return $"'{text}' gives no reason; expected x,y,width,height: reason";
        double[][] groups = [.. text[..colon].Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Numbers)];
        if (groups is [[var x, var y, > 0 and var width, > 0 and var height]])
        {
            area = new([new(x, y), new(x + width, y), new(x + width, y + height), new(x, y + height)], reason);
            return null;
        }
        if (groups.Length < 3 || groups.Any(g => g.Length != 2)) return $"'{text[..colon]}' is neither x,y,width,height nor at least three corners x,y";
        area = new([.. groups.Select(g => new PixelPoint(g[0], g[1]))], reason);
        return null;
    }

    /// <summary>Whether another area has the same corners on the same picture, whatever the reason.</summary>
    public bool Covers(LeftOutArea other) => other is not null && Picture == other.Picture && Corners.SequenceEqual(other.Corners);

    private static double[] Numbers(string group)
    {
        double[] values = [.. group.Split(',', StringSplitOptions.RemoveEmptyEntries).Select(t => double.TryParse(t, NumberStyles.Float, CultureInfo.InvariantCulture, out double v) ? v : double.NaN)];
        return values.All(v => Math.Abs(v) < 1e6) ? values : [];
    }
}
