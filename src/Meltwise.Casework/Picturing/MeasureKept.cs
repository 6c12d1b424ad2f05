using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Imaging;
using Meltwise.Imaging.Reading;

namespace Meltwise.Casework.Picturing;

/// <summary>Measures a picture of the bench from its original, and keeps what was found.</summary>
public static class MeasureKept
{
    /// <summary>Measures with the given settings.</summary>
    /// <exception cref="PictureRefusedException">The original is missing, unreadable, or is not the file that was kept.</exception>
    public static PictureResult Measure(IBench bench, Picture picture, PictureSettings settings, bool keepMasks, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        try
        {
            using MicrographFile file = PictureReader.Open(bench.OriginalPath(picture));
            DemandUnaltered(picture, file.Sha256);
            return PictureMeasurement.Measure(file, settings.Options(keepMasks), progress, cancel);
        }
        catch (UnreadablePictureException fault)
        {
            throw new PictureRefusedException($"Picture {picture.Name} ({picture.FileName}) cannot be read: found {fault.Found}; expected {fault.Expected}.", fault);
        }
    }

    /// <summary>The change that keeps a result with the settings that find it again.</summary>
    public static BenchChange Keep(Picture picture, PictureResult result, string? scaleSource, DateTime nowUtc) => new BenchChange.PutMeasurement(new(
        picture.Name, PicturingJson.Write(PictureSettings.Of(result, scaleSource)), PicturingJson.Write(PictureFigures.Of(result)), ProgramVersion, nowUtc));

    /// <summary>The settings that were kept of a picture, or what its record alone says.</summary>
    public static PictureSettings SettingsOf(IBench bench, Picture picture) =>
        bench.FindMeasurement(picture.Name) is { } kept && PicturingJson.TryReadSettings(kept.Settings) is { } settings
            ? settings
            : new() { MicrometresPerPixel = picture.MicrometresPerPixel, ScaleSource = picture.ScaleSource };

    /// <summary>Refuses an original that is not the file that was kept.</summary>
    internal static void DemandUnaltered(Picture picture, string found)
    {
        if (found != picture.Sha256)
            throw new PictureRefusedException($"The original of picture {picture.Name} ({picture.FileName}) was altered after it was kept: found SHA-256 {found[..12]}…, expected {picture.Sha256[..12]}…. Put it back from a backup, or bring the same file in again.");
    }

    internal static string ProgramVersion => typeof(MeasureKept).Assembly.GetName().Version?.ToString(3) ?? "unknown";
}
