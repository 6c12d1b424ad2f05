using System.Globalization;
using Meltwise.Imaging;
using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Calibration;
using Meltwise.Imaging.Classification;
using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Segmentation;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.WebUtilities;
using Microsoft.Extensions.Primitives;

namespace Meltwise.Web.Pictures;

/// <summary>The settings of a measurement as the address carries them, so that a measurement can be repeated from its address alone. Texts are as typed; what cannot be read is a fault in words.</summary>
public sealed class PictureQuery
{
    /// <summary>Names under which the address carries one value each.</summary>
    private static readonly string[] s_single = ["scale", "bar", "ends", "polarity", "rule", "level", "follow", "minimum", "neck", "smoothing", "flat", "holes", "scratches", "classes", "class"];

    /// <summary>Names under which it carries a list.</summary>
    private static readonly string[] s_lists = ["out", "mark"];

    private readonly Dictionary<string, string> _typed = new(StringComparer.Ordinal);
    private readonly Dictionary<string, IReadOnlyList<string>> _lines = new(StringComparer.Ordinal);
    private readonly List<string> _faults = [];

    private PictureQuery()
    {
    }

    /// <summary>True when the address says nothing of settings.</summary>
    public bool IsEmpty => _typed.Count == 0 && _lines.Count == 0;

    /// <summary>What could not be read, a sentence each; filled by <see cref="Options"/>.</summary>
    public IReadOnlyList<string> Faults => _faults;

    /// <summary>What was typed under a name; null when nothing was.</summary>
    public string? this[string name] => _typed.GetValueOrDefault(name);

    /// <summary>Lines typed under a name.</summary>
    public IReadOnlyList<string> Lines(string name) => _lines.GetValueOrDefault(name) ?? [];

    /// <summary>The settings that an address carries.</summary>
    public static PictureQuery From(IQueryCollection asked)
    {
        PictureQuery query = new();
        foreach (string name in s_single)
        {
            query.Set(name, asked[name].ToString());
        }

        foreach (string name in s_lists)
        {
            query.SetLines(name, asked[name]);
        }

        return query;
    }

    /// <summary>The settings of a measurement that was kept, as an address carries them.</summary>
    public static PictureQuery Of(MeasurementOptions kept)
    {
        SegmentationSettings s = kept.Settings, usual = new();
        PictureQuery query = new();
        query.Set("scale", Text(kept.MicrometresPerPixel));
        query.Set("bar", Text(kept.ScaleBarMicrometres));
        query.Set("ends", kept.ScaleBarEnds is { } line ? string.Create(CultureInfo.InvariantCulture, $"{line.From.X:R},{line.From.Y:R} {line.To.X:R},{line.To.Y:R}") : null);
        query.Set("polarity", s.Polarity switch { Polarity.Bright => "bright", Polarity.Dark => "dark", _ => null });
        query.Set("rule", s.Rule == usual.Rule ? null : s.Rule.ToString());
        query.Set("level", Text(s.Level));
        query.Set("follow", s.HysteresisShare == usual.HysteresisShare ? null : Text(s.HysteresisShare));
        query.Set("minimum", s.MinimumAreaPx == usual.MinimumAreaPx ? null : Text(s.MinimumAreaPx));
        query.Set("neck", !s.Split ? "0" : s.SplitNeck == usual.SplitNeck ? null : Text(s.SplitNeck));
        query.Set("smoothing", Text(s.SmoothingPx));
        query.Set("flat", s.Flatten ? null : "no");
        query.Set("holes", s.FillHoles ? null : "no");
        query.Set("scratches", s.RemoveScratches ? "yes" : null);
        query.Set("classes", s.GreyClasses == usual.GreyClasses ? null : Text(s.GreyClasses));
        query.Set("class", s.MeasuredClass);
        query.SetLines("out", s.LeftOut.Select(Line));
        query.SetLines("mark", s.Examples.Select(e => string.Create(CultureInfo.InvariantCulture, $"{e.Area.X},{e.Area.Y},{e.Area.Width},{e.Area.Height}: {e.Class}")));
        return query;
    }

    /// <summary>What the measurement is asked to do.</summary>
    /// <param name="recorded">Scale of the picture's record, taken when the address gives none.</param>
    public MeasurementOptions Options(double? recorded)
    {
        _faults.Clear();
        SegmentationSettings usual = new();
        double? level = Number("level", -255, 255, "a grey level");
        double? bar = Number("bar", 1e-6, 1e7, "a length in µm");
        double neck = Number("neck", 0, 1, "a number from 0 to 1") ?? usual.SplitNeck;
        ThresholdRule? rule = this["rule"] is { } named && Enum.TryParse(named, ignoreCase: true, out ThresholdRule r) && Enum.IsDefined(r) && !int.TryParse(named, out _) ? r : null;
        MarkedArea[] examples = [.. Lines("mark").Select(Example).OfType<MarkedArea>()];
        string? measured = this["class"] ?? (examples.Length > 0 ? examples[0].Class : null);
        if (examples.Length > 0 && examples.Select(e => e.Class).Distinct(StringComparer.Ordinal).Count() < 2)
        {
            _faults.Add("Examples of one class alone tell nothing apart; mark areas of at least two. Until then particles are told by grey level.");
            examples = [];
        }

        return new()
        {
            MicrometresPerPixel = Number("scale", 1e-6, 1e4, "µm per pixel") ?? (bar is null ? recorded : null),
            ScaleBarMicrometres = bar,
            ScaleBarEnds = bar is null ? null : Ends(),
            Settings = usual with
            {
                Polarity = this["polarity"] switch { "bright" => Polarity.Bright, "dark" => Polarity.Dark, _ => null },
                Rule = rule == ThresholdRule.Fixed && level is null ? usual.Rule : rule ?? (level is null ? usual.Rule : ThresholdRule.Fixed),
                Level = level,
                HysteresisShare = Number("follow", 0.01, 1, "a share from 0.01 to 1") ?? usual.HysteresisShare,
                MinimumAreaPx = (int)(Number("minimum", 1, 1e6, "pixels of area, 1 or more") ?? usual.MinimumAreaPx),
                Split = neck > 0,
                SplitNeck = neck,
                SmoothingPx = Number("smoothing", 0, 20, "pixels from 0 to 20"),
                Flatten = this["flat"] != "no",
                FillHoles = this["holes"] != "no",
                RemoveScratches = this["scratches"] == "yes",
                GreyClasses = (int)(Number("classes", 1, 4, "a number from 1 to 4") ?? usual.GreyClasses),
                LeftOut = [.. Lines("out").Select(LeftOut).OfType<LeftOutArea>()],
                Examples = examples,
                MeasuredClass = examples.Length > 0 ? measured : null,
            },
        };
    }

    /// <summary>The settings as a query.</summary>
    public string Query() => QueryHelpers.AddQueryString("", _typed.Select(p => KeyValuePair.Create(p.Key, (string?)p.Value))
        .Concat(_lines.SelectMany(l => l.Value.Select(v => KeyValuePair.Create(l.Key, (string?)v))))).TrimStart('?');

    private void Set(string name, string? value)
    {
        if (!string.IsNullOrWhiteSpace(value))
        {
            _typed[name] = value.Trim();
        }
    }

    private void SetLines(string name, IEnumerable<string?> lines)
    {
        string[] filled = [.. lines.Where(l => !string.IsNullOrWhiteSpace(l)).Select(l => l!.Trim())];
        if (filled.Length > 0)
        {
            _lines[name] = filled;
        }
    }

    private double? Number(string name, double low, double high, string expected)
    {
        if (this[name] is not { } typed)
        {
            return null;
        }

        if (double.TryParse(typed.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double v) && v >= low && v <= high)
        {
            return v;
        }

        _faults.Add($"Found “{typed}”; expected {expected}. It was not used.");
        return null;
    }

    private BarLine? Ends()
    {
        double[] places = [.. (this["ends"] ?? "").Split([' ', ','], StringSplitOptions.RemoveEmptyEntries)
            .Select(t => double.TryParse(t, NumberStyles.Float, CultureInfo.InvariantCulture, out double v) && Math.Abs(v) < 1e6 ? v : double.NaN)];
        if (this["ends"] is null)
        {
            return null;
        }

        if (places.Length == 4 && places.All(double.IsFinite) && (places[0], places[1]) != (places[2], places[3]))
        {
            return new(new(places[0], places[1]), new(places[2], places[3]));
        }

        _faults.Add($"Found “{this["ends"]}”; expected the two ends of the bar as column,row column,row. It was not used.");
        return null;
    }

    private LeftOutArea? LeftOut(string line)
    {
        if (LeftOutArea.TryRead(line, out LeftOutArea? area) is not { } fault)
        {
            return area;
        }

        _faults.Add($"Area left out: {fault}. It was not used.");
        return null;
    }

    private MarkedArea? Example(string line)
    {
        int colon = line.IndexOf(':', StringComparison.Ordinal);
        string name = colon < 0 ? "" : line[(colon + 1)..].Trim();
        int[] box = [.. (colon < 0 ? line : line[..colon]).Split(',').Select(t => int.TryParse(t.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int v) ? v : -1)];
        if (name.Length > 0 && box is [>= 0 and < 1_000_000, >= 0 and < 1_000_000, > 0 and < 1_000_000, > 0 and < 1_000_000])
        {
            return new(new PixelBox(box[0], box[1], box[2], box[3]), name);
        }

        _faults.Add($"Example: found “{line}”; expected column,row,width,height: class. It was not used.");
        return null;
    }

    private static string Line(LeftOutArea area) =>
        $"{string.Join(' ', area.Corners.Select(c => string.Create(CultureInfo.InvariantCulture, $"{c.X:R},{c.Y:R}")))}: {area.Reason}";

    private static string? Text(double? value) => value?.ToString("R", CultureInfo.InvariantCulture);
}
