using System.Globalization;
using Meltwise.Imaging;

namespace Meltwise.Web.Pictures;

/// <summary>Two sets of pictures and the margin as the address carries them.</summary>
/// <param name="Reference">Tokens of the reference heat's pictures, parted by commas.</param>
/// <param name="Candidate">Tokens of the candidate heat's pictures, parted by commas.</param>
/// <param name="Scale">Micrometres per pixel; empty takes the pictures' own.</param>
/// <param name="Low">Lower limit of the ratio.</param>
/// <param name="High">Upper limit of the ratio.</param>
internal sealed record ComparisonQuery(string? Reference, string? Candidate, string? Scale, string? Low, string? High)
{
    /// <summary>Lower limit of the ratio, or null when what was typed cannot be one.</summary>
    public double? Lower => Ratio(Low, 0.8) is { } v && v is > 0 and < 1 ? v : null;

    /// <summary>Upper limit of the ratio, or null when what was typed cannot be one.</summary>
    public double? Upper => Ratio(High, 1.25) is { } v && v > 1 && double.IsFinite(v) ? v : null;

    /// <summary>The pictures of a set that are still on the tray.</summary>
    public static IReadOnlyList<SetPicture> Pictures(string? tokens, PictureTray tray) =>
        [.. (tokens ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries).Where(t => tray.FindPath(t) is not null).Select(t => new SetPicture(t, tray.FindPath(t)!))];

    /// <summary>Number of pictures that the address names in a set.</summary>
    public static int Named(string? tokens) => (tokens ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries).Length;

    /// <summary>What the measurement is asked to do.</summary>
    public MeasurementOptions Options() => new() { MicrometresPerPixel = Ratio(Scale, double.NaN) is { } v && v is > 1e-6 and < 1e4 ? v : null };

    /// <summary>The comparison as a query.</summary>
    /// <param name="open">Whether the key is open.</param>
    public string Query(bool open) => string.Join('&', new[] { ("reference", Reference), ("candidate", Candidate), ("scale", Scale), ("low", Low), ("high", High), ("key", open ? "open" : null) }
        .Where(p => !string.IsNullOrWhiteSpace(p.Item2)).Select(p => $"{p.Item1}={Uri.EscapeDataString(p.Item2!)}"));

    private static double? Ratio(string? text, double usual)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            return usual;
        }

        return double.TryParse(text.Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double v) ? v : null;
    }
}

/// <summary>A picture of a set.</summary>
/// <param name="Token">The token it is found by.</param>
/// <param name="Path">Its place on disk.</param>
internal sealed record SetPicture(string Token, string Path);
