using Meltwise.Imaging.Reading;

namespace Meltwise.Imaging.Calibration;

/// <summary>Finds the scale bar of a picture and reads its label.</summary>
public static class ScaleBarReader
{
    /// <summary>The strip or bar with its label, or null when there is none.</summary>
    /// <param name="source">The picture; one too large to be held whole is not searched.</param>
    public static ScaleBarFound? Find(GreySource source)
    {
        ArgumentNullException.ThrowIfNull(source);
        return source is GreyPicture picture ? ScaleBarFinder.Find(picture) : null;
    }
}
