using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>The design as it came out: heats, loads, coupons planned, valid and left out.</summary>
internal static class DesignPart
{
    public static ReportPart Of(ReportInput input)
    {
        Verdict v = input.Verdict;
        int? planned = input.Enquiry.Rule?.PlannedCouponsPerLot;
        List<IReadOnlyList<Rich>> rows = [];
        foreach (Lot lot in v.Lots)
        {
            foreach (string heat in lot.Heat)
            {
                CouponPoint[] coupons = [.. lot.Coupons.Where(c => c.Heat == heat)];
                string[] loads = [.. coupons.Select(c => c.Load).OfType<string>().Distinct().Order(StringComparer.Ordinal)];
                rows.Add([Rich.Of(new Run(heat, RunStyle.Strong)), lot.Role, loads.Length == 0 ? Rich.Unknown : string.Join(", ", loads), planned is { } p ? FigureNumbers.Count(p) : "–", FigureNumbers.Count(coupons.Length), FigureNumbers.Count(v.LeftOut.Count(c => c.Lot == heat && !c.Enters))]);
            }
        }
        if (rows.Count == 0)
            return new("Design", []);
        List<Block> blocks = [new Block.Table([new("heat"), new("role"), new("furnace loads", 1.4), new("planned", 0.8, true), new("valid", 0.7, true), new("left out", 0.8, true)], rows)];
        if (input.Enquiry.Key is { } key)
            blocks.Add(new Block.Paragraph(Key(key), TextKind.Note));
        return new("Design", blocks);
    }

    private static string Key(BlindKey key) =>
        $"Coupons were tested under code: key sealed {ReportWords.Stamp(key.SealedAtUtc)}; readings locked {(key.ReadingsLockedAtUtc is { } l ? ReportWords.Stamp(l) : "not yet")}; key opened {(key.OpenedAtUtc is { } o ? ReportWords.Stamp(o) : "not yet")}.";
}
