using System.CommandLine;
using Meltwise.Casework.Judging;
using Meltwise.Cli.Terminal;
using Meltwise.Imaging;
using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Reading;

namespace Meltwise.Cli.Commands;

/// <summary><c>measure</c>: particles of micrographs, of one set or of two heats against each other.</summary>
internal static class MeasureCommand
{
    public static Command Create()
    {
        Argument<FileInfo[]> images = new("IMAGE") { Description = "Micrographs: PNG, JPEG, TIFF; with --against those of the reference.", Arity = ArgumentArity.OneOrMore };
        Option<FileInfo[]> against = new("--against") { Description = "Micrographs of the candidate: both sets are measured alike, in an order shuffled over both, and judged against the margin.", AllowMultipleArgumentsPerToken = true };
        Option<string?> margin = new("--margin") { Description = "With --against: largest ratio still called the same, 25% or 0.80..1.25 (the default)." };
        Option<DirectoryInfo?> output = new("--out", "-o") { Description = "Folder for a table of particles and the settings of each picture." };
        Option<int> seed = SharedOptions.Seed();
        Option<bool> json = SharedOptions.Json();
        PictureOptions pictures = new();
        Command command = new("measure", "Particles of micrographs: fraction, count, sizes, clustering, with uncertainty from field to field and mount to mount.") { images, against, margin, output, seed, json };
        foreach (Option option in pictures.All) command.Options.Add(option);
        command.SetAction((parsed, cancel) =>
        {
            MeasurementOptions options = pictures.Read(parsed) with { ParticlesFolder = parsed.GetValue(output)?.FullName };
            string[] first = Paths(parsed.GetValue(images)!), second = Paths(parsed.GetValue(against) ?? []);
            if (second.Length == 0 && parsed.GetValue(margin) is not null) throw Fault.Usage("--margin is for two sets of pictures: give the candidate's with --against.");
            bool asJson = parsed.GetValue(json);
            try
            {
                if (second.Length == 0) MeasureSet(first, options, asJson, cancel);
                else Compare(first, second, options, RatioMargin.Read(parsed.GetValue(margin)), parsed.GetValue(seed), asJson, cancel);
                return Task.FromResult(ExitStatus.Done);
            }
            catch (Exception fault) when (fault is UnreadablePictureException or UnusableAreaException)
            {
                if (asJson) JsonOutput.Write(new { faults = new[] { new { file = (fault as UnreadablePictureException)?.File ?? "", found = fault.Message, expected = fault is UnreadablePictureException ? "a readable picture" : "areas on the pictures" } } });
                throw Fault.Input(fault.Message);
            }
            catch (UnequalPicturesException refused)
            {
                throw Fault.Refused(refused.Message);
            }
        });
        return command;
    }

    private static string[] Paths(FileInfo[] files) => [.. files.Select(f => f.FullName)];

    private static void MeasureSet(string[] files, MeasurementOptions options, bool asJson, CancellationToken cancel)
    {
        MeasurementResult result = ProgressLine.Run("measuring", report => PictureMeasurement.Measure(files, options, new Reported(report), cancel));
        SaveSettings(result.Images, options.ParticlesFolder);
        if (asJson) JsonOutput.Write(MeasureContract.Of(result));
        else MeasurePage.Write(new Paper(), result);
    }

    private static void Compare(string[] reference, string[] candidate, MeasurementOptions options, (double Low, double High) margin, int seed, bool asJson, CancellationToken cancel)
    {
        ComparedPictures compared = ProgressLine.Run("measuring", report => PictureComparison.Measure(reference, candidate, options, seed, new Reported(report), cancel));
        SaveSettings([.. compared.Reference.Images, .. compared.Candidate.Images], options.ParticlesFolder);
        IReadOnlyList<JudgedQuantity> judged = PictureJudgement.Judge(compared, margin.Low, margin.High, options.MountOf);
        if (asJson) JsonOutput.Write(MeasureContract.Of(compared, judged, margin, seed));
        else MeasurePage.Write(new Paper(), compared, judged, margin);
    }

    private static void SaveSettings(IReadOnlyList<PictureResult> images, string? folder)
    {
        if (folder is null) return;
        Directory.CreateDirectory(folder);
        for (int i = 0; i < images.Count; i++)
            File.WriteAllText(Path.Combine(folder, $"{Path.GetFileNameWithoutExtension(images[i].File)}-{i + 1}-settings.json"), SettingsFile.Write(images[i]));
    }

    /// <summary>Reports as the work goes, not later.</summary>
    private sealed class Reported(Action<double> report) : IProgress<MeasurementProgress>
    {
        public void Report(MeasurementProgress value) => report(value.Share);
    }
}
