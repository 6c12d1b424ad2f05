using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Calibration;

/// <summary>A data strip or scale bar burned into a picture: where it is, how long the bar is and what its label says.</summary>
/// <param name="Area">The area to leave out of the inspection: strip, box, or bar and label.</param>
/// <param name="FullWidth">Whether the area is a strip along the bottom or the top of the picture.</param>
/// <param name="Line">The bar, or null when none was found in the area.</param>
/// <param name="Label">What the label says, or null when it could not be read with confidence.</param>
public sealed record ScaleBarFound(PixelBox Area, bool FullWidth, BarLine? Line, BarLabel? Label = null)
{
    /// <summary>Size of a pixel in micrometres by bar and label, or null when one of them is missing.</summary>
    public double? MicrometresPerPixel => Line is { } line && Label is { } label ? label.Micrometres / line.LengthPixels : null;
}

/// <summary>A scale bar as a line from one end to the other, in pixels.</summary>
/// <param name="From">One end.</param>
/// <param name="To">The other end.</param>
public sealed record BarLine(PixelPoint From, PixelPoint To)
{
    /// <summary>Length in pixels.</summary>
    public double LengthPixels => From.DistanceTo(To);
}

/// <summary>The label of a scale bar as read.</summary>
/// <param name="Text">The text, such as <c>50 µm</c>.</param>
/// <param name="Micrometres">Its length in micrometres.</param>
/// <param name="Confidence">How much better the characters read fit than any others, 0 to 1: a score of the weakest character, not a probability.</param>
public sealed record BarLabel(string Text, double Micrometres, double Confidence);
