using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Imaging;
using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Particles;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Casework.Picturing;

/// <summary>Measures the pictures of an enquiry alike and in a shuffled order, from their originals.</summary>
public static class StructureComparison
{
    /// <summary>The stored comparison of the question as it stands; null when there is none, or the question was asked anew since.</summary>
    public static StructureDocument? Stored(IBench bench, Enquiry enquiry) =>
        enquiry.Structure is { } question && bench.FindDocument(enquiry.Name, StructureDocument.Kind) is { } stored && stored.AtUtc >= question.AtUtc ? PicturingJson.TryReadStructure(stored.Json) : null;

    /// <summary>The change that keeps it.</summary>
    public static BenchChange Keep(Enquiry enquiry, StructureDocument document) => new BenchChange.PutDocument(new(enquiry.Name, StructureDocument.Kind, PicturingJson.Write(document), document.AtUtc));

    /// <summary>Measures.</summary>
    /// <param name="bench">The bench.</param>
    /// <param name="enquiry">An enquiry that asks something of its pictures.</param>
    /// <param name="atUtc">Stamp of the measurement.</param>
    /// <param name="progress">Told the share done, 0 to 1.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="PictureRefusedException">The pictures cannot be compared; the message names the picture.</exception>
    public static StructureDocument Measure(IBench bench, Enquiry enquiry, DateTime atUtc, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        StructureQuestion question = enquiry.Structure ?? throw new PictureRefusedException($"Nothing is asked of the pictures of {enquiry.Name} yet. Agree the margin first.");
        Picture[] pictures = [.. AskStructure.Pictures(bench, enquiry).Where(p => question.Pictures.Count == 0 || question.Pictures.Contains(p.Name))];
        Picture[] reference = [.. pictures.Where(p => enquiry.ReferenceHeats.Contains(p.Heat))], candidate = [.. pictures.Where(p => enquiry.CandidateHeats.Contains(p.Heat))];
        Dictionary<string, Picture> byPath = pictures.ToDictionary(bench.OriginalPath, StringComparer.Ordinal);
        int seed = enquiry.Name.Aggregate(17, (h, c) => unchecked((h * 31) + c)) & int.MaxValue;
        ComparedPictures compared;
        try
        {
            compared = PictureComparison.Measure([.. reference.Select(bench.OriginalPath)], [.. candidate.Select(bench.OriginalPath)], Options(bench, question, pictures), seed,
                progress is null ? null : new Told(progress), cancel);
        }
        catch (UnequalPicturesException fault)
        {
            throw new PictureRefusedException(Named(fault.Message, byPath), fault);
        }
        catch (UnusableAreaException fault)
        {
            throw new PictureRefusedException(Named(fault.Message, byPath), fault);
        }
        catch (UnreadablePictureException fault)
        {
            throw new PictureRefusedException($"Picture {byPath[fault.File].Name} cannot be read: found {fault.Found}; expected {fault.Expected}.", fault);
        }
        return Document(compared, [.. reference, .. candidate], reference.Length, seed, atUtc, progressDone: progress);
    }

    private static StructureDocument Document(ComparedPictures compared, Picture[] pictures, int references, int seed, DateTime atUtc, IProgress<double>? progressDone)
    {
        PictureResult[] results = [.. compared.Reference.Images, .. compared.Candidate.Images];
        for (int i = 0; i < results.Length; i++) MeasureKept.DemandUnaltered(pictures[i], results[i].Sha256);
        HashSet<int> forLargest = [.. compared.ReferenceLargestFields, .. compared.CandidateLargestFields.Select(i => i + references)];
        StructureDocument document = new()
        {
            Program = MeasureKept.ProgramVersion,
            AtUtc = atUtc,
            Seed = seed,
            Settings = compared.Settings,
            MicrometresPerPixel = results[0].Scale.MicrometresPerPixel,
            Fields = [.. compared.Order.Select((i, place) => Field(place + 1, pictures[i], results[i], i >= references, forLargest.Contains(i)))],
            EqualArea = compared.EqualArea,
            Notes = [.. compared.Notes, .. Unlike(pictures[..references], pictures[references..])],
        };
        progressDone?.Report(1);
        return document;
    }

    private static StructureField Field(int number, Picture picture, PictureResult result, bool isCandidate, bool countsForLargest)
    {
        Particle? largest = result.ParticleList.Where(p => !p.Cut).MaxBy(p => p.Area);
        return new()
        {
            Number = number,
            Picture = picture.Name,
            Sha256 = picture.Sha256,
            IsCandidate = isCandidate,
            Heat = picture.Heat,
            Mount = picture.Mount,
            Width = result.Metadata.Width,
            Height = result.Metadata.Height,
            Count = result.Count,
            AreaFraction = result.AreaFraction.Estimate,
            PerArea = result.PerAreaMm2 ?? result.PerPixel,
            MeanDiameter = (result.DiameterUm ?? result.DiameterPx)?.Mean ?? 0,
            P95Diameter = (result.DiameterUm ?? result.DiameterPx)?.P95 ?? 0,
            Largest = (result.DiameterUm ?? result.DiameterPx)?.Largest ?? 0,
            LargestAt = largest is null ? null : new(largest.X, largest.Y, largest.EquivalentDiameter),
            InspectedArea = result.InspectedAreaMm2 ?? result.InspectedPixels,
            CountsForLargest = countsForLargest,
        };
    }

    private static MeasurementOptions Options(IBench bench, StructureQuestion question, Picture[] pictures)
    {
        double?[] scales = [.. pictures.Select(p => p.MicrometresPerPixel).Distinct()];
        if (scales.Length > 1)
            throw new PictureRefusedException("Pictures of two heats are compared at one magnification. Recorded are: " + string.Join("; ", pictures.GroupBy(p => p.MicrometresPerPixel)
                .Select(g => $"{g.Key?.ToString("G5", CultureInfo.InvariantCulture) ?? "no scale"} µm per pixel ({string.Join(", ", g.Select(p => p.Name))})")) + ". Correct the scale of a picture, or choose pictures of one scale.");
        SegmentationSettings settings = question.SettingsOf is { } name && bench.FindPicture(name) is { } model ? Common(MeasureKept.SettingsOf(bench, model).Settings, model) : new();
        return new()
        {
            MicrometresPerPixel = scales[0],
            Settings = settings with { LeftOut = [.. pictures.SelectMany(p => MeasureKept.SettingsOf(bench, p).Settings.LeftOut.Select(a => a with { Picture = p.Sha256 }))] },
        };
    }

    // The level follows each picture's own matrix, since exposure differs between pictures, unless the rule itself is a fixed level.
    private static SegmentationSettings Common(SegmentationSettings kept, Picture model) => kept with
    {
        Level = kept.Rule == ThresholdRule.Fixed ? kept.Level : null,
        Examples = [.. kept.Examples.Select(e => e with { Picture = model.Sha256 })],
    };

    private static IEnumerable<string> Unlike(Picture[] reference, Picture[] candidate)
    {
        (string What, Func<Picture, string?> Of)[] preparation = [("etch", p => p.Etch), ("plane of section", p => p.Plane), ("magnification", p => p.Magnification), ("microscope", p => p.Microscope)];
        foreach ((string what, Func<Picture, string?> of) in preparation)
        {
            string[] r = [.. reference.Select(p => of(p) ?? "unknown").Distinct().Order(StringComparer.Ordinal)], c = [.. candidate.Select(p => of(p) ?? "unknown").Distinct().Order(StringComparer.Ordinal)];
            if (!r.SequenceEqual(c) || r.Length > 1) yield return $"The sets differ in {what}: {string.Join(", ", r)} against {string.Join(", ", c)}. A difference of the pictures may be one of preparation.";
            else if (r[0] == "unknown") yield return $"The {what} is not recorded.";
        }
    }

    private static string Named(string message, Dictionary<string, Picture> byPath) =>
        byPath.Aggregate(message, (text, p) => text.Replace(Path.GetFileName(p.Key), $"Picture {p.Value.Name}", StringComparison.Ordinal));

    private sealed class Told(IProgress<double> progress) : IProgress<MeasurementProgress>
    {
        // Pictures that turn out to need a common setting are measured a second time; the line then waits rather than going back.
        public void Report(MeasurementProgress value) => progress.Report(0.98 * value.Share);
    }
}
