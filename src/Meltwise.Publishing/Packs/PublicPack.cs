using Meltwise.Domain;
using Meltwise.Publishing.Report;

namespace Meltwise.Publishing.Packs;

/// <summary>The input of a pack that names nobody: labels for names in coupons and readings too, days and instruments left out.</summary>
internal static class PublicPack
{
    public static (PackInput Input, PrivateNames Names) Of(PackInput input)
    {
        (ReportInput report, PrivateNames names) = PublicVersion.Of(input.Report);
        string? Text(string? text) => text is null ? null : names.InTyped(text);
        string? Name(string? name) => name is null ? null : names.Of(name);
        CouponRow Row(CouponRow r) => r with
        {
            Heat = names.Of(r.Heat),
            Coupon = names.InText(r.Coupon),
            Source = Name(r.Source),
            Grade = Text(r.Grade),
            Treatment = Text(r.Treatment),
            Load = Text(r.Load),
            Geometry = Text(r.Geometry),
            Session = null,
            Instrument = Name(r.Instrument),
            Date = null,
            Code = Text(r.Code),
            Position = Text(r.Position),
            Fracture = r.Fracture is { } f ? f with { Coupon = new(names.Of(r.Heat), names.InText(r.Coupon)), SeenBy = Text(f.SeenBy), Notes = Text(f.Notes) } : null,
            Cause = Text(r.Cause),
            Origin = null,
        };
        Reading Public(Reading r) => r with { Coupon = new(names.Of(r.Coupon.Heat), names.InText(r.Coupon.Coupon)), Instrument = Name(r.Instrument), Session = null, ReadAtUtc = null, ReadOn = null, Cause = Text(r.Cause) };
        return (new(report, [.. input.Readings.Select(Public)], input.Coupons with { Rows = [.. input.Coupons.Rows.Select(Row)] })
        {
            Pictures = [.. input.Pictures.Select(p => p.Public(names))],
            LargePictures = input.LargePictures,
            // The digests of a comparison are those of the originals; the public files are others.
            Structure = input.Structure is { } s ? s with { Fields = [.. s.Fields.Select(f => f with { Heat = names.Of(f.Heat), Mount = f.Mount is { } m ? names.InText(m) : null, Sha256 = "" })], Notes = [.. s.Notes.Select(names.InText)] } : null,
        }, names);
    }
}
