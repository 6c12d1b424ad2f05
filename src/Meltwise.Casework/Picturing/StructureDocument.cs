using Meltwise.Imaging.Segmentation;

namespace Meltwise.Casework.Picturing;

/// <summary>The pictures of an enquiry, measured alike in a shuffled order. It holds what was measured, not what it means: the judgement is made from it when the key is open.</summary>
public sealed record StructureDocument
{
    /// <summary>Kind of the stored document.</summary>
    public const string Kind = "structure";

    /// <summary>Version of the program that measured.</summary>
    public required string Program { get; init; }

    /// <summary>When.</summary>
    public required DateTime AtUtc { get; init; }

    /// <summary>Seed of the shuffle.</summary>
    public required int Seed { get; init; }

    /// <summary>Settings common to all pictures.</summary>
    public required SegmentationSettings Settings { get; init; }

    /// <summary>Size of a pixel in micrometres, the same for all; null when unknown, then lengths are in pixels.</summary>
    public double? MicrometresPerPixel { get; init; }

    /// <summary>The fields in the order in which they were measured.</summary>
    public required IReadOnlyList<StructureField> Fields { get; init; }

    /// <summary>Inspected area behind the largest particle of each set, mm² (pixels without a scale): the same for both.</summary>
    public required double EqualArea { get; init; }

    /// <summary>What a reader must know.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>Fields of one set.</summary>
    public IEnumerable<StructureField> Of(bool candidate) => Fields.Where(f => f.IsCandidate == candidate);

    /// <summary>The field of a set with the median area fraction (the lower of the two middle ones).</summary>
    public StructureField Median(bool candidate)
    {
        StructureField[] ordered = [.. Of(candidate).OrderBy(f => f.AreaFraction)];
        return ordered[(ordered.Length - 1) / 2];
    }

    /// <summary>The field with the largest particle among those of equal area; null when areas left out leave none.</summary>
    public StructureField? Worst(bool candidate) => Of(candidate).Where(f => f.CountsForLargest).MaxBy(f => f.Largest);
}

/// <summary>One measured field.</summary>
public sealed record StructureField
{
    /// <summary>Place in the order of measuring, from 1.</summary>
    public required int Number { get; init; }

    /// <summary>Name of the picture.</summary>
    public required string Picture { get; init; }

    /// <summary>Digest of its original.</summary>
    public required string Sha256 { get; init; }

    /// <summary>True when its heat is in the candidate role.</summary>
    public required bool IsCandidate { get; init; }

    /// <summary>Its heat.</summary>
    public required string Heat { get; init; }

    /// <summary>Its mount; null when unknown.</summary>
    public string? Mount { get; init; }

    /// <summary>Width, px.</summary>
    public required int Width { get; init; }

    /// <summary>Height, px.</summary>
    public required int Height { get; init; }

    /// <summary>Particles, those cut by the frame included.</summary>
    public required int Count { get; init; }

    /// <summary>Area fraction.</summary>
    public required double AreaFraction { get; init; }

    /// <summary>Particles per mm² (per pixel without a scale).</summary>
    public required double PerArea { get; init; }

    /// <summary>Mean equivalent diameter, µm (px without a scale).</summary>
    public required double MeanDiameter { get; init; }

    /// <summary>Diameter that 95 of 100 stay below.</summary>
    public required double P95Diameter { get; init; }

    /// <summary>Diameter of the largest whole particle.</summary>
    public required double Largest { get; init; }

    /// <summary>Its place and size in pixels: columns, rows, diameter; null without particles.</summary>
    public ParticlePlace? LargestAt { get; init; }

    /// <summary>Inspected area, mm² (px without a scale).</summary>
    public required double InspectedArea { get; init; }

    /// <summary>True when it is among the equal number of fields over which the largest particle is compared.</summary>
    public required bool CountsForLargest { get; init; }
}

/// <summary>Where a particle lies in its picture.</summary>
/// <param name="X">Columns from the left.</param>
/// <param name="Y">Rows from the top.</param>
/// <param name="Diameter">Equivalent diameter, px.</param>
public sealed record ParticlePlace(double X, double Y, double Diameter);
