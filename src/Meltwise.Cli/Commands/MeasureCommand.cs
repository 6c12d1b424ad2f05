using System.CommandLine;
using System.Globalization;
using Meltwise.Cli.Terminal;
using Meltwise.Imaging;
using Meltwise.Imaging.Reading;

namespace Meltwise.Cli.Commands;

/// <summary><c>measure</c>: particles of micrographs.</summary>
internal static class MeasureCommand
{
    public static Command Create()
    {
        Argument<FileInfo[]> images = new("IMAGE") { Description = "Micrographs: PNG, JPEG, TIFF.", Arity = ArgumentArity.OneOrMore };
        Option<double?> scale = new("--scale") { Description = "Micrometres per pixel; otherwise from the picture's own metadata." };
        Option<double?> bar = new("--scale-bar") { Description = "Length of the scale bar in the picture, micrometres; the bar is looked for." };
        Option<DirectoryInfo?> output = new("--out", "-o") { Description = "Folder for one table of particles a picture." };
        Option<bool> json = SharedOptions.Json();
        Command command = new("measure", "Particles of micrographs: fraction, count, sizes, clustering, with uncertainty from field to field.") { images, scale, bar, output, json };
        command.SetAction((parsed, cancel) =>
        {
            if (parsed.GetValue(scale) is { } s && !(s > 0 && double.IsFinite(s))) throw Fault.Usage("--scale must be above 0, in micrometres per pixel.");
            MeasurementOptions options = new()
            {
                MicrometresPerPixel = parsed.GetValue(scale),
                ScaleBarMicrometres = parsed.GetValue(bar),
                ParticlesFolder = parsed.GetValue(output)?.FullName,
            };
            if (options.ParticlesFolder is { } folder) Directory.CreateDirectory(folder);
            try
            {
                MeasurementResult result = ProgressLine.Run("measuring", report => PictureMeasurement.Measure(
                    [.. parsed.GetValue(images)!.Select(f => f.FullName)], options, new Progress<MeasurementProgress>(p => report(p.Share)), cancel));
                if (parsed.GetValue(json)) JsonOutput.Write(Contract(result));
                else Describe(new Paper(), result);
                return Task.FromResult(ExitStatus.Done);
            }
            catch (UnreadablePictureException fault)
            {
                if (parsed.GetValue(json)) JsonOutput.Write(new { faults = new[] { new { file = "", found = fault.Message, expected = "a readable picture" } } });
                throw Fault.Input(fault.Message);
            }
        });
        return command;
    }

    private static object Contract(MeasurementResult result) => new
    {
        images = result.Images.Select(i => new
        {
            i.File,
            i.Sha256,
            scaleUm = i.Scale.MicrometresPerPixel,
            scaleFrom = i.Scale.Source,
            i.AreaFraction,
            thresholdBand = i.ThresholdBand,
            i.Count,
            i.CountInside,
            i.PerAreaMm2,
            i.DiameterUm,
            i.DiameterPx,
            i.Aspect,
            i.Clustering,
            i.MinimumDiameterUm,
            i.MinimumDiameterPx,
            i.InspectedAreaMm2,
            i.InspectedPixels,
            i.Particles,
            i.Settings,
            i.Notes,
        }),
        pooled = result.Pooled,
        result.Notes,
    };

    private static void Describe(Paper paper, MeasurementResult result)
    {
        paper.Title(result.Images.Count == 1 ? "Particles of one picture" : string.Create(CultureInfo.InvariantCulture, $"Particles of {result.Images.Count} pictures"));
        bool micrometres = result.Images.All(i => i.DiameterUm is not null);
        string unit = micrometres ? "µm" : "px";
        paper.Table(["picture", "area %", "at ±1 grey step", "count", "inside", $"median {unit}", $"95 % {unit}", $"largest {unit}", "per mm²"],
            result.Images.Select(i =>
            {
                Imaging.Stereology.SizeSummary? size = micrometres ? i.DiameterUm : i.DiameterPx;
                return (IReadOnlyList<string>)
                [
                    Path.GetFileName(i.File), Number(100 * i.AreaFraction.Estimate), $"{Number(100 * i.ThresholdBand.Lower)} to {Number(100 * i.ThresholdBand.Upper)}", i.Count.ToString(CultureInfo.InvariantCulture), i.CountInside.ToString(CultureInfo.InvariantCulture),
                    Number(size?.Median), Number(size?.P95), Number(size?.Largest), i.PerAreaMm2 is { } n ? n.ToString("0", CultureInfo.InvariantCulture) : "unknown",
                ];
            }), 1, 2, 3, 4, 5, 6, 7, 8);
        if (result.Images.Count > 1)
            paper.Text(string.Create(CultureInfo.InvariantCulture, $"Pooled over {result.Pooled.Fields} fields: area fraction {100 * result.Pooled.AreaFraction.Estimate:0.00} % ({100 * result.Pooled.AreaFraction.Lower:0.00} to {100 * result.Pooled.AreaFraction.Upper:0.00})."));
        paper.Section("Method and limits");
        foreach (string note in result.Notes.Concat(result.Images.SelectMany(i => i.Notes)).Distinct()) paper.Item("  ", note);
        paper.Item("  ", "Etchants are poisonous and corrosive, and grinding makes dust: follow the safety data sheets, local rules and licensed practice.");
    }

    private static string Number(double? value) => value is { } v ? v.ToString("0.00", CultureInfo.InvariantCulture) : "unknown";
}
