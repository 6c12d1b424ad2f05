using System.Globalization;
using Meltwise.Imaging.Calibration;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging.Areas;

/// <summary>The part of a picture that is inspected: the frame without a data strip, less the scale bar and the areas left out by the user.</summary>
internal static class InspectedPart
{
    private const string BarReason = "scale bar";

    /// <summary>The inspected frame, and the settings with the areas left out on this picture.</summary>
    /// <exception cref="UnusableAreaException">Nothing is left to inspect.</exception>
    public static (PixelBox Frame, SegmentationSettings Settings) Of(MicrographFile file, ScaleBarFound? bar, SegmentationSettings settings, List<string> notes)
    {
        PixelBox frame = file.Grey.Frame;
        List<LeftOutArea> areas = [.. settings.LeftOut.Where(a => a.Picture is null || a.Picture == file.Sha256)];
        if (bar is not null)
        {
            string place = string.Create(CultureInfo.InvariantCulture, $"columns {bar.Area.X}-{bar.Area.Right - 1}, rows {bar.Area.Y}-{bar.Area.Bottom - 1}");
            notes.Add(bar.FullWidth ? $"A data strip was found and left out: {place}." : $"A scale bar was found and left out: {place}.");
            LeftOutArea found = LeftOutArea.Rectangle(bar.Area, BarReason);
            if (bar.FullWidth) frame = bar.Area.Y == 0 ? new(0, bar.Area.Bottom, frame.Width, frame.Height - bar.Area.Height) : new(0, 0, frame.Width, bar.Area.Y);
            else if (!areas.Any(found.Covers)) areas.Add(found);
        }
        LeftOutArea[] marked = [.. areas.Where(a => a.Reason != BarReason)];
        if (marked.Length > 0) Note(marked, frame, notes);
        if (new LeftOutMask(areas, frame).Pixels == frame.Area) throw new UnusableAreaException($"{Path.GetFileName(file.Path)}: the areas left out cover the whole picture; something must be left to inspect.");
        return (frame, settings with { LeftOut = areas });
    }

    private static void Note(LeftOutArea[] marked, PixelBox frame, List<string> notes)
    {
        double share = (double)new LeftOutMask(marked, frame).Pixels / frame.Area;
        notes.Add(string.Create(CultureInfo.InvariantCulture,
            $"{100 * share:0.##} % of the frame was left out and the fractions are of the rest: {string.Join("; ", marked.Select(a => a.Reason).Distinct(StringComparer.Ordinal))}."));
    }
}
