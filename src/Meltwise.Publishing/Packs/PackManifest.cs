namespace Meltwise.Publishing.Packs;

/// <summary>Table of contents of a pack, in <c>pack.json</c>.</summary>
public sealed record PackManifest
{
    /// <summary>Name and version of this form.</summary>
    public const string Form = "meltwise-pack-1";

    /// <summary>Name and version of the form it is in.</summary>
    public required string Schema { get; init; }

    /// <summary>Version of the program that wrote it.</summary>
    public required string Program { get; init; }

    /// <summary>The enquiry, or <c>Public version</c>.</summary>
    public required string Enquiry { get; init; }

    /// <summary>Name of the package by its contents (<see cref="PackId"/>); null in packs from before it was given.</summary>
    public string? Id { get; init; }

    /// <summary>When it was made.</summary>
    public required DateTime MadeUtc { get; init; }

    /// <summary>True for invented data of the demonstration bench.</summary>
    public bool IsDemonstration { get; init; }

    /// <summary>True for the version that names nobody.</summary>
    public bool IsPublicVersion { get; init; }

    /// <summary>How to cite it.</summary>
    public required string Citation { get; init; }

    /// <summary>Every other file with its size and digest.</summary>
    public required IReadOnlyList<PackFile> Files { get; init; }
}

/// <summary>A file of a pack.</summary>
/// <param name="Path">Path inside the pack, with <c>/</c>.</param>
/// <param name="Bytes">Size.</param>
/// <param name="Sha256">SHA-256, hexadecimal, lower case.</param>
public sealed record PackFile(string Path, long Bytes, string Sha256);
