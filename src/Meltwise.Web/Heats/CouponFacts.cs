using System.Globalization;
using Meltwise.Casework.Intake;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Web.Heats;

/// <summary>What a person writes of one coupon beside its readings: where it was cut, when its hardness was read, where its fracture began.</summary>
public sealed class CouponFacts
{
    public string? Coupon { get; set; }

    public string? Position { get; set; }

    public string? Moment { get; set; }

    public string? HardnessOrder { get; set; }

    public string? Kind { get; set; }

    public string? Size { get; set; }

    public string? FromSurface { get; set; }

    public string? SeenBy { get; set; }

    public string? Notes { get; set; }

    /// <summary>The lines filled with what is recorded.</summary>
    public static CouponFacts Of(Coupon coupon, FractureOrigin? origin) => new()
    {
        Coupon = coupon.Key.ToString(),
        Position = coupon.Position,
        Moment = coupon.HardnessMoment?.ToString(),
        HardnessOrder = coupon.HardnessOrder?.ToString(CultureInfo.InvariantCulture),
        Kind = origin is null ? null : OriginKinds.NameOf(origin.Kind),
        Size = origin?.SizeUm?.ToString("0.###", CultureInfo.InvariantCulture),
        FromSurface = origin?.FromSurfaceUm?.ToString("0.###", CultureInfo.InvariantCulture),
        SeenBy = origin?.SeenBy,
        Notes = origin?.Notes,
    };

    /// <summary>The coupon and its origin as the lines tell them, or what is wrong with the lines.</summary>
    /// <param name="coupon">The coupon as it is recorded.</param>
    /// <param name="recorded">Its recorded origin.</param>
    /// <param name="withHardness">Whether the lines speak of hardness; otherwise that stays as it is.</param>
    public (DescribedCoupon? Told, string? Fault) Read(Coupon coupon, FractureOrigin? recorded, bool withHardness)
    {
        (FractureOrigin? origin, string? fault) = ReadOrigin(coupon.Key, recorded);
        int order = 0;
        if (fault is null && Said(HardnessOrder) is { } typed && !int.TryParse(typed, NumberStyles.None, CultureInfo.InvariantCulture, out order))
        {
            fault = $"“{typed}” is no place in the order of hardness readings; a whole number is. Nothing was stored.";
        }

        if (fault is not null)
        {
            return (null, fault);
        }

        Coupon told = coupon with { Position = Said(Position) };
        if (withHardness)
        {
            told = told with { HardnessMoment = Enum.TryParse(Moment, out HardnessMoment moment) ? moment : null, HardnessOrder = Said(HardnessOrder) is null ? null : order };
        }

        return (new(told, origin), null);
    }

    private (FractureOrigin? Origin, string? Fault) ReadOrigin(CouponKey key, FractureOrigin? recorded)
    {
        if (OriginKinds.Find(Kind ?? "") is not { } kind)
        {
            return recorded is not null ? (null, $"The fracture of coupon {key} was examined. Correct its kind, or choose none seen. Nothing was stored.")
                : Said(Size) is null && Said(FromSurface) is null ? (null, null) : (null, $"Coupon {key}: a size or depth of an origin needs its kind. Nothing was stored.");
        }

        (double? size, string? sizeFault) = Micrometres(Size, "size");
        (double? depth, string? depthFault) = Micrometres(FromSurface, "distance from the surface");
        string? fault = sizeFault ?? depthFault;
        return fault is null ? (new(key, kind, size, depth, Said(SeenBy), Said(Notes)), null) : (null, $"Coupon {key}: {fault} Nothing was stored.");
    }

    private static (double? Um, string? Fault) Micrometres(string? text, string what)
    {
        if (Said(text) is not { } typed)
        {
            return (null, null);
        }

        bool read = Casework.Intake.TypedFigure.TryRead(typed, DecimalSign.Point, out Figure figure, out _) && figure.Censoring == Censoring.None && figure.Unit is "" or "µm" or "um" or "mm";
        return read ? (figure.Unit == "mm" ? 1000 * figure.Value : figure.Value, null) : (null, $"“{typed}” is no {what} in µm.");
    }

    private static string? Said(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
