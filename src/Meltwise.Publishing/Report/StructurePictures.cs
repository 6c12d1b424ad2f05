using System.Globalization;
using Meltwise.Casework.Picturing;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Publishing.Report;

/// <summary>Collects the pictures of an enquiry for its report: only when they were measured and the key is open.</summary>
internal static class StructurePictures
{
    private const int PrintedPx = 1200;

    /// <summary>The part, or null when there is nothing to report.</summary>
    /// <exception cref="BenchException">An original is missing or was altered.</exception>
    public static PicturePart? Of(IBench bench, Enquiry enquiry)
    {
        if (enquiry.Structure is not { OpenedAtUtc: not null } question || StructureComparison.Stored(bench, enquiry) is not { } document)
            return null;
        Picture[] pictures = [.. document.Fields.Select(f => bench.FindPicture(f.Picture)).OfType<Picture>()];
        IReadOnlyList<StructureQuantity> judged = StructureJudgement.Judge(document, question);
        return new()
        {
            Sets = [Set(bench, document, candidate: false), Set(bench, document, candidate: true)],
            Quantities = [.. judged.Select(q => new PictureQuantity(q.Judged, q.Unit, q.Factor))],
            MarginLow = question.Lower,
            MarginHigh = question.Upper,
            Section = All(pictures, p => p.Plane is { } plane ? $"{plane} section" : null),
            Etch = All(pictures, p => p.Etch),
            Microscope = All(pictures, p => string.Join(", ", new[] { p.Microscope, p.Magnification }.OfType<string>()) is { Length: > 0 } text ? text : null),
            FieldRule = question.FieldRule,
            Processing = Processing(document),
            MeasuredBlind = true,
            Notes = [.. document.Notes, $"Sample: {judged[0].Judged.Basis}.", .. Largest(document), .. question.AskedAfterOpening ? ["The margin was set after an earlier question had been opened; it decides nothing."] : (string[])[]],
        };
    }

    private static PictureSet Set(IBench bench, StructureDocument document, bool candidate)
    {
        StructureField[] fields = [.. document.Of(candidate)];
        StructureField median = document.Median(candidate);
        StructureField? worst = document.Worst(candidate);
        return new(string.Join(", ", fields.Select(f => f.Heat).Distinct()), candidate, fields.Length, document.MicrometresPerPixel is null ? null : fields.Sum(f => f.InspectedArea),
            Shown(bench, median, string.Create(CultureInfo.InvariantCulture, $"picture {median.Picture}, area fraction {100 * median.AreaFraction:0.0} %")),
            worst is null ? null : Shown(bench, worst, string.Create(CultureInfo.InvariantCulture, $"picture {worst.Picture}, largest particle {worst.Largest:0.00} {(document.MicrometresPerPixel is null ? "px" : "µm")}")));
    }

    private static ReportPicture Shown(IBench bench, StructureField field, string caption)
    {
        Picture picture = bench.FindPicture(field.Picture) ?? throw new BenchException($"Picture {field.Picture} of the comparison is not on this bench any more.");
        ShownCopy copy = PictureCopy.ForPrint(bench, picture, PrintedPx);
        return new(copy.Png, copy.WidthPx, copy.HeightPx, copy.MicrometresPerPixel, caption);
    }

    private static string Processing(StructureDocument document)
    {
        SegmentationSettings s = document.Settings;
        string told = s.Examples.Count > 0 ? $"class {s.MeasuredClass} by marked examples" : $"{(s.Polarity == Polarity.Dark ? "dark" : "bright")} particles, threshold {Rule(s)}";
        return string.Create(CultureInfo.InvariantCulture, $"the same for all: {told}, uneven light {(s.Flatten ? "taken out" : "left")}, smoothing {s.SmoothingPx ?? 0:0.##} px, smallest particle {s.MinimumAreaPx} px of area, measured in a shuffled order (seed {document.Seed})");
    }

    private static string Rule(SegmentationSettings s) => s.Rule switch
    {
        ThresholdRule.Otsu => "by Otsu in each picture",
        ThresholdRule.MinimumError => "of minimum error in each picture",
        ThresholdRule.Triangle => "by the triangle rule in each picture",
        ThresholdRule.Local => "local",
        ThresholdRule.Fixed => string.Create(CultureInfo.InvariantCulture, $"at grey level {s.Level:0.#}"),
        _ => "midway between matrix and particle cores of each picture",
    };

    private static IEnumerable<string> Largest(StructureDocument document)
    {
        yield return string.Create(CultureInfo.InvariantCulture, $"The largest particle is compared over {document.EqualArea:G3} {(document.MicrometresPerPixel is null ? "px" : "mm²")} of each lot.");
    }

    // What differs between pictures is in the notes of the comparison; here stands what all share.
    private static string? All(Picture[] pictures, Func<Picture, string?> of) => string.Join(" / ", pictures.Select(of).OfType<string>().Distinct()) is { Length: > 0 } text ? text : null;
}
