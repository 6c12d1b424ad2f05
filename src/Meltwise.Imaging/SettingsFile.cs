using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using Meltwise.Imaging.Calibration;
using Meltwise.Imaging.Segmentation;

namespace Meltwise.Imaging;

/// <summary>Settings of a measurement as saved with its result and replayed: JSON, one object.</summary>
/// <remarks>Keeps what decides the particles and their scale: areas left out with their reasons, examples of classes, levels and rules, the page, the size of a pixel. Replaying the settings of a result on the same picture gives the same particles.</remarks>
public static class SettingsFile
{
    private const int Version = 1;

    private static readonly JsonSerializerOptions s_json = new(JsonSerializerDefaults.Web)
    {
        WriteIndented = true,
        IgnoreReadOnlyProperties = true,
        NumberHandling = JsonNumberHandling.Strict,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false) },
        Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>The settings a picture was measured with.</summary>
    /// <param name="result">The measured picture.</param>
    public static string Write(PictureResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        return Write(new MeasurementOptions { Page = result.Metadata.Page, MicrometresPerPixel = result.Scale.MicrometresPerPixel, FindScaleBar = result.ScaleBarSought, Settings = result.Settings });
    }

    /// <summary>The settings a measurement is asked with.</summary>
    /// <param name="options">What is asked; folders, tiles and limits are not kept.</param>
    public static string Write(MeasurementOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        return JsonSerializer.Serialize(new Saved(Version, options.Page, options.MicrometresPerPixel, options.ScaleBarMicrometres, options.ScaleBarEnds, options.FindScaleBar, options.Settings), s_json);
    }

    /// <summary>Reads settings.</summary>
    /// <param name="text">The text of the file.</param>
    /// <exception cref="UnreadableSettingsException">Not settings, of another version, or a value out of its range.</exception>
    public static MeasurementOptions Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        Saved saved;
        try
        {
            saved = JsonSerializer.Deserialize<Saved>(text, s_json) ?? throw new UnreadableSettingsException("null", "an object of settings");
        }
        catch (JsonException fault)
        {
            throw new UnreadableSettingsException(string.Create(CultureInfo.InvariantCulture, $"something else at {(string.IsNullOrEmpty(fault.Path) ? "the start" : fault.Path)}, line {fault.LineNumber + 1 ?? 1}"), "settings of a picture measurement as JSON");
        }
        if (saved.Version != Version) throw new UnreadableSettingsException(string.Create(CultureInfo.InvariantCulture, $"version {saved.Version}"), string.Create(CultureInfo.InvariantCulture, $"version {Version}"));
        if (saved.Settings is null) throw new UnreadableSettingsException("no settings", "an object \"settings\"");
        if (saved.Settings.Fault() is { } wrong) throw new UnreadableSettingsException(wrong.Found, wrong.Expected);
        if (saved.MicrometresPerPixel is { } um && !(um > 0 && double.IsFinite(um))) throw new UnreadableSettingsException(string.Create(CultureInfo.InvariantCulture, $"micrometresPerPixel {um}"), "a number above 0");
        return new()
        {
            Page = Math.Max(0, saved.Page),
            MicrometresPerPixel = saved.MicrometresPerPixel,
            ScaleBarMicrometres = saved.ScaleBarMicrometres,
            ScaleBarEnds = saved.ScaleBarEnds,
            FindScaleBar = saved.FindScaleBar,
            Settings = saved.Settings,
        };
    }

    private sealed record Saved(int Version, int Page, double? MicrometresPerPixel, double? ScaleBarMicrometres, BarLine? ScaleBarEnds, bool FindScaleBar, SegmentationSettings Settings);
}

/// <summary>Settings that cannot be read; the message says what was found and what was expected.</summary>
/// <param name="found">What was found.</param>
/// <param name="expected">What was expected.</param>
public sealed class UnreadableSettingsException(string found, string expected) : Exception($"Found {found}; expected {expected}.")
{
    /// <summary>What was found.</summary>
    public string Found { get; } = found;

    /// <summary>What was expected.</summary>
    public string Expected { get; } = expected;
}
