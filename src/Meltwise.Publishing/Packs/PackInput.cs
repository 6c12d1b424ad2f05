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
    /// <summary>Collects it from a bench.</summary>
    public static PackInput FromBench(IBench bench, ReportInput report)
    {
        string[] heats = [.. report.Enquiry.ReferenceHeats, .. report.Enquiry.CandidateHeats];
        HashSet<CouponKey> chosen = [.. report.Coupons.Select(c => c.Key)];
        CouponTable table = bench.CouponTable(new(heats, Enquiry: report.Enquiry.Name));
        return new(report, [.. report.Coupons.SelectMany(c => bench.Readings(c.Key))], table with { Rows = [.. table.Rows.Where(r => chosen.Contains(new(r.Heat, r.Coupon)))] });
    }
}
