using System.CommandLine;
using System.Globalization;
using System.Text.RegularExpressions;
using Meltwise.Imaging;
using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Calibration;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Cli.Commands;

/// <summary>How pictures are measured, as typed on the command line.</summary>
internal sealed partial class PictureOptions
{
    private readonly Option<double?> _scale = new("--scale") { Description = "Micrometres per pixel; otherwise the picture's own tags, or its scale bar where that can be read." };
    private readonly Option<string?> _bar = new("--scale-bar") { Description = "Length of the scale bar in the picture, such as \"50 um\"; the bar is looked for." };
    private readonly Option<string?> _ends = new("--scale-bar-ends") { Description = "Ends of the scale bar in pixels, \"x,y x,y\", where it is not found; with --scale-bar." };
    private readonly Option<string[]> _leaveOut = new("--leave-out") { Description = "Area left out with its reason, in pixels: \"x,y,width,height: reason\" or corners \"x,y x,y x,y: reason\". May be given more than once." };
    private readonly Option<FileInfo?> _settings = new("--settings") { Description = "Settings saved by an earlier measurement, replayed; what is typed besides goes before them." };
    private readonly Option<string?> _polarity = new("--particles") { Description = "Whether particles are brighter or darker than the matrix: bright or dark." };
    private readonly Option<int?> _minimum = new("--minimum") { Description = "Smallest particle counted, in pixels of area." };
    private readonly Option<int?> _page = new("--page") { Description = "Page of a file of several pages, from 1." };
    private readonly Option<string?> _mounts = new("--mounts") { Description = "Which pictures lie on one mount: those of one folder (folder), or whose names agree up to the last - or _ (name)." };

    public PictureOptions()
    {
        _polarity.AcceptOnlyFromAmong("bright", "dark");
        _mounts.AcceptOnlyFromAmong("folder", "name");
    }

    public IEnumerable<Option> All => [_scale, _bar, _ends, _leaveOut, _settings, _polarity, _minimum, _page, _mounts];

    /// <summary>Reads the options or says what is wrong with them.</summary>
    public MeasurementOptions Read(ParseResult parsed)
    {
        MeasurementOptions saved = parsed.GetValue(_settings) is { } file ? Saved(file) : new();
        if (parsed.GetValue(_scale) is { } s && !(s > 0 && double.IsFinite(s))) throw Fault.Usage("--scale must be above 0, in micrometres per pixel.");
        if (parsed.GetValue(_minimum) is < 1) throw Fault.Usage("--minimum must be 1 pixel or more.");
        if (parsed.GetValue(_page) is < 1) throw Fault.Usage("--page counts from 1.");
        if (parsed.GetValue(_ends) is not null && parsed.GetValue(_bar) is null) throw Fault.Usage("--scale-bar-ends needs the length of the bar: --scale-bar \"50 um\".");
        double? barLength = parsed.GetValue(_bar) is { } typed ? Micrometres(typed) : null;
        return saved with
        {
            MicrometresPerPixel = parsed.GetValue(_scale) ?? (barLength is null ? saved.MicrometresPerPixel : null),
            ScaleBarMicrometres = barLength ?? saved.ScaleBarMicrometres,
            ScaleBarEnds = parsed.GetValue(_ends) is { } ends ? Ends(ends) : saved.ScaleBarEnds,
            Page = parsed.GetValue(_page) - 1 ?? saved.Page,
            MountOf = parsed.GetValue(_mounts) switch { "folder" => FolderOf, "name" => NameOf, _ => null },
            Settings = saved.Settings with
            {
                Polarity = parsed.GetValue(_polarity) switch { "bright" => Polarity.Bright, "dark" => Polarity.Dark, _ => saved.Settings.Polarity },
                MinimumAreaPx = parsed.GetValue(_minimum) ?? saved.Settings.MinimumAreaPx,
                LeftOut = [.. saved.Settings.LeftOut, .. (parsed.GetValue(_leaveOut) ?? []).Select(Area)],
            },
        };
    }

    private static MeasurementOptions Saved(FileInfo file)
    {
        if (!file.Exists) throw Fault.Input($"--settings {file.Name}: no such file.");
        try
        {
            return SettingsFile.Read(File.ReadAllText(file.FullName));
        }
        catch (UnreadableSettingsException fault)
        {
            throw Fault.Input($"{file.Name}: found {fault.Found}; expected {fault.Expected}.");
        }
    }

    private static LeftOutArea Area(string text) => LeftOutArea.TryRead(text, out LeftOutArea? area) is { } fault ? throw Fault.Usage($"--leave-out: {fault}.") : area!;

    /// <summary>A length such as 50 um, 1 mm, 200nm; a bare number is micrometres.</summary>
    private static double Micrometres(string text)
    {
        Match match = LengthText().Match(text);
        if (match.Success && double.TryParse(match.Groups["number"].Value.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && number > 0)
            return number * match.Groups["unit"].Value switch { "nm" => 1e-3, "mm" => 1e3, _ => 1 };
        throw Fault.Usage($"--scale-bar: \"{text}\" is not a length; write it as \"50 um\", \"200 nm\" or \"1 mm\".");
    }

    private static BarLine Ends(string text)
    {
        double[] n = [.. text.Split([' ', ','], StringSplitOptions.RemoveEmptyEntries).Select(t => double.TryParse(t, NumberStyles.Float, CultureInfo.InvariantCulture, out double v) ? v : double.NaN)];
        if (n.Length != 4 || n.Any(v => !double.IsFinite(v))) throw Fault.Usage($"--scale-bar-ends: \"{text}\" is not two points \"x,y x,y\".");
        BarLine line = new(new(n[0], n[1]), new(n[2], n[3]));
        return line.LengthPixels > 1 ? line : throw Fault.Usage("--scale-bar-ends: the two points must lie more than a pixel apart.");
    }

    private static string FolderOf(string path) => Path.GetFileName(Path.GetDirectoryName(Path.GetFullPath(path))) ?? "";

    private static string NameOf(string path)
    {
        string name = Path.GetFileNameWithoutExtension(path);
        int cut = name.LastIndexOfAny(['-', '_']);
        return cut > 0 ? name[..cut] : name;
    }

    [GeneratedRegex(@"^\s*(?<number>\d+([.,]\d+)?)\s*(?<unit>µm|μm|um|nm|mm)?\s*$", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex LengthText();
}
