using System.Globalization;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Where fractures began: counts of each kind, then every examined coupon with its reading, size and depth.</summary>
internal static class OriginsPart
{
    private const string Title = "Fracture origins";

    public static ReportPart Of(ReportInput input)
    {
        Dictionary<CouponKey, CouponPoint> points = [];
        foreach (CouponPoint point in input.Verdict.Lots.SelectMany(l => l.Coupons))
            points[new(point.Heat, point.Coupon)] = point;
        if (input.Origins.Count == 0)
            return new(Title, [], WhenEmpty: "No fracture was examined, or nothing was recorded of it.");
        List<Block> blocks = [Counts(input), Every(input, points)];
        return new(Title, blocks, "observation");
    }

    private static Block.Table Counts(ReportInput input)
    {
        OriginKind[] kinds = [.. OriginKinds.All.Select(k => k.Kind).Where(k => input.Origins.Any(o => o.Kind == k))];
        string[] heats = [.. input.Enquiry.ReferenceHeats, .. input.Enquiry.CandidateHeats];
        return new([new("heat", 1), new("examined", 1), .. kinds.Select(k => new Column(OriginKinds.NameOf(k), 1, true))],
            [.. heats.Select(h => (IReadOnlyList<Rich>)[Rich.Of(new Run(h, RunStyle.Strong)), $"{Count(o => o.Coupon.Heat == h)} of {input.Coupons.Count(c => c.Heat == h)}", .. kinds.Select(k => (Rich)FigureNumbers.Count(Count(o => o.Coupon.Heat == h && o.Kind == k)))])],
            "Coupons whose fracture was examined, by what lay at the origin.");

        int Count(Func<FractureOrigin, bool> which) => input.Origins.Count(which);
    }

    private static Block.Table Every(ReportInput input, Dictionary<CouponKey, CouponPoint> points)
    {
        string unit = input.Verdict.Rule.Unit;
        Dictionary<CouponKey, string?> codes = input.Coupons.ToDictionary(c => c.Key, c => c.Code);
        IEnumerable<FractureOrigin> inOrder = input.Origins.OrderBy(o => points.TryGetValue(o.Coupon, out CouponPoint? p) ? p.Value : double.MaxValue);
        return new([new("coupon", 1.1), new("heat", 0.7), new($"{input.Verdict.Rule.Property}, {unit}", 1, true), new("origin", 1.2), new("size, µm", 0.7, true), new("from surface, µm", 0.9, true), new("how seen", 1.5), new("notes", 1.8)],
            [.. inOrder.Select(o => (IReadOnlyList<Rich>)
            [
                Rich.Of(new Run(codes.GetValueOrDefault(o.Coupon) ?? o.Coupon.Coupon, RunStyle.Strong)), o.Coupon.Heat, points.TryGetValue(o.Coupon, out CouponPoint? p) ? FigureNumbers.Value(p.Value) : "–", OriginKinds.NameOf(o.Kind),
                Um(o.SizeUm), Um(o.FromSurfaceUm), Rich.OrNotRecorded(o.SeenBy), o.Notes ?? "",
            ])],
            "From the lowest reading up. Size is the square root of the area of the origin on the fracture. An origin seen is an observation; that it lowered the reading is interpretation.");
    }

    private static string Um(double? length) => length?.ToString("0.#", CultureInfo.InvariantCulture) ?? "–";
}
