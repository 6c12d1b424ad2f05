namespace Meltwise.Domain;

/// <summary>A micrograph kept on the bench: whose steel it shows, how it was made, and the digest of its original. Null means unknown.</summary>
public sealed record Picture
{
    /// <summary>Short name, unique on the bench: <c>P-12</c>.</summary>
    public required string Name { get; init; }

    /// <summary>Name of the heat it shows.</summary>
    public required string Heat { get; init; }

    /// <summary>Name of the coupon within the heat.</summary>
    public string? Coupon { get; init; }

    /// <summary>Mount (the embedded and polished piece).</summary>
    public string? Mount { get; init; }

    /// <summary>Number of the field on the mount, from 1.</summary>
    public int? Field { get; init; }

    /// <summary>Plane of the section: <c>L</c> longitudinal, <c>T</c> transverse, <c>S</c> short.</summary>
    public string? Plane { get; init; }

    /// <summary>Magnification as written by the microscope: <c>500×</c>.</summary>
    public string? Magnification { get; init; }

    /// <summary>Etch, or <c>unetched</c>.</summary>
    public string? Etch { get; init; }

    /// <summary>Microscope and objective.</summary>
    public string? Microscope { get; init; }

    /// <summary>Size of a pixel in micrometres.</summary>
    public double? MicrometresPerPixel { get; init; }

    /// <summary>Where the scale comes from: typed, resolution tags of the file, a scale bar.</summary>
    public string? ScaleSource { get; init; }

    /// <summary>SHA-256 of the original file, hexadecimal, lower case.</summary>
    public required string Sha256 { get; init; }

    /// <summary>Name of the original file.</summary>
    public required string FileName { get; init; }

    /// <summary>Format of the original: PNG, JPEG, TIFF.</summary>
    public required string Format { get; init; }

    /// <summary>Width in pixels, upright.</summary>
    public required int Width { get; init; }

    /// <summary>Height in pixels, upright.</summary>
    public required int Height { get; init; }

    /// <summary>Day it was taken.</summary>
    public DateOnly? TakenOn { get; init; }

    /// <summary>Free text.</summary>
    public string? Notes { get; init; }

    /// <summary>Why it is not used; null while it is.</summary>
    public string? SetAside { get; init; }
}
