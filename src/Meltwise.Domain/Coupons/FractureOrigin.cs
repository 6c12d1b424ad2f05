namespace Meltwise.Domain;

/// <summary>What lay where a fracture began.</summary>
public enum OriginKind
{
    /// <summary>Oxide, sulphide, slag.</summary>
    Inclusion,

    /// <summary>A cluster or band of carbides, or one large carbide.</summary>
    CarbideCluster,

    /// <summary>A pore or other cavity.</summary>
    Pore,

    /// <summary>The surface as it was: scratch, dent, decarburised skin, old crack.</summary>
    Surface,

    /// <summary>A grinding mark or burn.</summary>
    Grinding,

    /// <summary>Something else; the notes say what.</summary>
    Other,

    /// <summary>The fracture was examined and no origin was seen.</summary>
    NoneSeen,
}

/// <summary>Where the fracture of a coupon began. A coupon without this record was not examined.</summary>
/// <param name="Coupon">The coupon.</param>
/// <param name="Kind">What lay there.</param>
/// <param name="SizeUm">Its size, the square root of the area seen on the fracture, in µm; null when not measured.</param>
/// <param name="FromSurfaceUm">Distance of its centre from the nearest surface, in µm; 0 when it broke through; null when not measured.</param>
/// <param name="SeenBy">How it was seen: <c>stereo microscope 40×</c>, <c>scanning electron microscope</c>.</param>
/// <param name="Notes">Composition of the particle, picture, what else was seen.</param>
public sealed record FractureOrigin(CouponKey Coupon, OriginKind Kind, double? SizeUm = null, double? FromSurfaceUm = null, string? SeenBy = null, string? Notes = null);

/// <summary>The kinds of fracture origin as they are written in tables and on pages.</summary>
public static class OriginKinds
{
    private static readonly (OriginKind Kind, string Name)[] s_names =
    [
        (OriginKind.Inclusion, "inclusion"), (OriginKind.CarbideCluster, "carbide cluster"), (OriginKind.Pore, "pore"), (OriginKind.Surface, "surface"),
        (OriginKind.Grinding, "grinding"), (OriginKind.Other, "other"), (OriginKind.NoneSeen, "none seen"),
    ];

    /// <summary>All of them with their names, in the order of a list.</summary>
    public static IReadOnlyList<(OriginKind Kind, string Name)> All => s_names;

    /// <summary>The name of a kind.</summary>
    public static string NameOf(OriginKind kind) => Array.Find(s_names, n => n.Kind == kind).Name;

    /// <summary>The kind of that name, without case, or null.</summary>
    public static OriginKind? Find(string name) =>
        Array.FindIndex(s_names, n => string.Equals(n.Name, name.Trim(), StringComparison.OrdinalIgnoreCase)) is var at and >= 0 ? s_names[at].Kind : null;
}
