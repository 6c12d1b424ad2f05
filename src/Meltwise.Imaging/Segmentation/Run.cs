namespace Meltwise.Imaging.Segmentation;

/// <summary>A stretch of neighbouring pixels in one row: columns From to To - 1.</summary>
/// <param name="Y">Row.</param>
/// <param name="From">First column.</param>
/// <param name="To">One past the last column.</param>
public readonly record struct Run(int Y, int From, int To)
{
    /// <summary>Number of pixels.</summary>
    public int Length => To - From;
}
