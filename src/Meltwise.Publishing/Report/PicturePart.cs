using Meltwise.Casework.Judging;

namespace Meltwise.Publishing.Report;

/// <summary>The structure of two lots in pictures, for the report: the median and the worst field of each at one magnification, what was measured of all fields, and the outcome by the decision table.</summary>
/// <remarks>Fields of both lots are picked by one rule, etched, taken and processed alike; what differs is said in <see cref="Notes"/>.</remarks>
public sealed record PicturePart
{
    /// <summary>The two sets, reference first.</summary>
    public required IReadOnlyList<PictureSet> Sets { get; init; }

    /// <summary>What was measured, and its outcome.</summary>
    public required IReadOnlyList<PictureQuantity> Quantities { get; init; }

    /// <summary>Lower limit of the margin on the ratio candidate over reference.</summary>
    public required double MarginLow { get; init; }

    /// <summary>Upper limit.</summary>
    public required double MarginHigh { get; init; }

    /// <summary>Plane and place of the section: <c>L section, mid-radius</c>; null when not recorded.</summary>
    public string? Section { get; init; }

    /// <summary>Etchant and time; null when not recorded.</summary>
    public string? Etch { get; init; }

    /// <summary>Microscope and objective; null when not recorded.</summary>
    public string? Microscope { get; init; }

    /// <summary>How the fields were picked; null when not recorded.</summary>
    public string? FieldRule { get; init; }

    /// <summary>How pictures became particles, in words; the same for both sets.</summary>
    public string? Processing { get; init; }

    /// <summary>True when the pictures were measured while nobody could tell whose they were.</summary>
    public bool MeasuredBlind { get; init; }

    /// <summary>What else must be known: fields left out, differences in preparation.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];
}

/// <summary>Pictures of one lot.</summary>
/// <param name="Heat">Name of the heat.</param>
/// <param name="IsCandidate">True for the candidate.</param>
/// <param name="Fields">Number of fields measured.</param>
/// <param name="AreaMm2">Area of all fields together, mm²; null when the scale is unknown.</param>
/// <param name="Median">The field that stands in the middle.</param>
/// <param name="Worst">The worst field, labelled so; null when there is only one.</param>
public sealed record PictureSet(string Heat, bool IsCandidate, int Fields, double? AreaMm2, ReportPicture Median, ReportPicture? Worst);

/// <summary>A picture as it is printed. The scale bar is drawn beside it from <paramref name="MicrometresPerPixel"/>; none should be burnt in.</summary>
/// <param name="File">PNG or JPEG, without position data or names in its metadata.</param>
/// <param name="WidthPx">Width, px.</param>
/// <param name="HeightPx">Height, px.</param>
/// <param name="MicrometresPerPixel">Scale; null when unknown, then no bar is drawn and the report says so.</param>
/// <param name="Caption">What it shows: <c>field 3, area fraction 12.4 %</c>. No source and no place.</param>
public sealed record ReportPicture(ReadOnlyMemory<byte> File, int WidthPx, int HeightPx, double? MicrometresPerPixel, string Caption);

/// <summary>A quantity of the pictures with the unit it is printed in.</summary>
/// <param name="Judged">Values of the fields, ratio, intervals, outcome.</param>
/// <param name="Unit">Unit it is printed in: <c>%</c>, <c>µm</c>, <c>1/mm²</c>.</param>
/// <param name="Factor">What the values are multiplied with for that unit, e.g. 100 for a fraction in %.</param>
public sealed record PictureQuantity(JudgedQuantity Judged, string Unit, double Factor = 1);
