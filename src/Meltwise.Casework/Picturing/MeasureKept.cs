using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Imaging;
using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Reading;

namespace Meltwise.Casework.Picturing;

/// <summary>Measures a picture of the bench from its original, and keeps what was found with the settings that find it again.</summary>
public static class MeasureKept
{
    /// <summary>Measures with the given settings.</summary>
    /// <exception cref="PictureRefusedException">The original is missing, unreadable, or is not the file that was kept; or areas marked on it cannot be used.</exception>
    public static PictureResult Measure(IBench bench, Picture picture, MeasurementOptions options, IProgress<StageProgress>? progress = null, CancellationToken cancel = default)
    {
        try
        {
            using MicrographFile file = PictureReader.Open(bench.OriginalPath(picture), options.Page, options.Limits);
            DemandUnaltered(picture, file.Sha256);
            return PictureMeasurement.Measure(file, options, progress, cancel);
        }
        catch (UnreadablePictureException fault)
        {
            throw new PictureRefusedException($"Picture {picture.Name} ({picture.FileName}) cannot be read: found {fault.Found}; expected {fault.Expected}.", fault);
        }
        catch (UnusableAreaException fault)
        {
            throw new PictureRefusedException(fault.Message, fault);
        }
    }

    /// <summary>Keeps a result: its settings and figures, and the scale in the record of the picture where that changed.</summary>
    /// <param name="bench">The bench.</param>
    /// <param name="picture">The picture as recorded.</param>
    /// <param name="result">What was found.</param>
    /// <param name="hand">Who.</param>
    public static Outcome<Picture> Keep(IBench bench, Picture picture, PictureResult result, Hand hand)
    {
        if (result.Sha256 != picture.Sha256) return Outcome<Picture>.Refused($"This was not measured on the original of picture {picture.Name}. Nothing was stored.");
        List<BenchChange> changes = [new BenchChange.PutMeasurement(new(picture.Name, SettingsFile.Write(result), PicturingJson.Write(PictureFigures.Of(result)), ProgramVersion, hand.NowUtc))];
        Picture after = picture;
        if (result.Scale.MicrometresPerPixel is { } scale && scale != picture.MicrometresPerPixel)
        {
            after = picture with { MicrometresPerPixel = scale, ScaleSource = result.Scale.Source == "given" ? "typed" : result.Scale.Source };
            changes.Insert(0, new BenchChange.PutPicture(after));
        }
        bench.Commit(hand.By, after == picture ? null : $"scale by which it was measured ({after.ScaleSource})", changes);
        return Outcome<Picture>.Stored(after);
    }

    /// <summary>The settings that were kept of a picture, or none but the scale of its record.</summary>
    public static MeasurementOptions SettingsOf(IBench bench, Picture picture) => Kept(bench, picture) with { MicrometresPerPixel = picture.MicrometresPerPixel };

    /// <summary>Refuses an original that is not the file that was kept.</summary>
    internal static void DemandUnaltered(Picture picture, string found)
    {
        if (found != picture.Sha256)
            throw new PictureRefusedException($"The original of picture {picture.Name} ({picture.FileName}) was altered after it was kept: found SHA-256 {found[..12]}…, expected {picture.Sha256[..12]}…. Put it back from a backup, or bring the same file in again.");
    }

    internal static string ProgramVersion => typeof(MeasureKept).Assembly.GetName().Version?.ToString(3) ?? "unknown";

    private static MeasurementOptions Kept(IBench bench, Picture picture)
    {
        try
        {
            return bench.FindMeasurement(picture.Name) is { } kept ? SettingsFile.Read(kept.Settings) : new();
        }
        catch (UnreadableSettingsException)
        {
            // Written by another version in another form: the picture is measured anew, as if nothing had been kept.
            return new();
        }
    }
}
