using Meltwise.Casework.Picturing;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Publishing.Report;

namespace Meltwise.Publishing.Packs;

/// <summary>What a pack is made from.</summary>
/// <param name="Report">Enquiry, verdict and records, as for the report.</param>
/// <param name="Readings">Readings of the coupons of the enquiry.</param>
/// <param name="Coupons">The same flat, as the judging saw it.</param>
public sealed record PackInput(ReportInput Report, IReadOnlyList<Reading> Readings, CouponTable Coupons)
{
    /// <summary>Pictures of the heats with their files.</summary>
    public IReadOnlyList<PackedPicture> Pictures { get; init; } = [];

    /// <summary>Names of pictures that are too large for a pack.</summary>
    public IReadOnlyList<string> LargePictures { get; init; } = [];

    /// <summary>The measured comparison of the pictures; null when there is none.</summary>
    public StructureDocument? Structure { get; init; }

    /// <summary>Collects it from a bench.</summary>
    public static PackInput FromBench(IBench bench, ReportInput report)
    {
        string[] heats = [.. report.Enquiry.ReferenceHeats, .. report.Enquiry.CandidateHeats];
        HashSet<CouponKey> chosen = [.. report.Coupons.Select(c => c.Key)];
        CouponTable table = bench.CouponTable(new(heats, Enquiry: report.Enquiry.Name));
        (IReadOnlyList<PackedPicture> pictures, IReadOnlyList<string> tooLarge) = PackedPicture.Of(bench, report.Enquiry);
        return new(report, [.. report.Coupons.SelectMany(c => bench.Readings(c.Key))], table with { Rows = [.. table.Rows.Where(r => chosen.Contains(new(r.Heat, r.Coupon)))] })
        {
            Pictures = pictures,
            LargePictures = tooLarge,
            Structure = StructureComparison.Stored(bench, report.Enquiry),
        };
    }
}
