using Meltwise.Domain;
using Meltwise.Publishing.Documents;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Standards the work follows, deviations from them, and coupons that are no standard ones.</summary>
/// <remarks>Numbers of standards from memory; the edition in force is the laboratory's to state.</remarks>
internal static class StandardsPart
{
    private static readonly Dictionary<string, string> s_standards = new(StringComparer.Ordinal)
    {
        ["hardness"] = "ISO 6508-1, ASTM E18",
        ["impact energy"] = "ISO 148-1, ASTM E23",
        ["wear loss"] = "ASTM G65",
        ["retained austenite"] = "ASTM E975",
        ["carbide area fraction"] = "ASTM E1245, ASTM E562",
        ["carbide size"] = "ASTM E1245",
        ["largest particle"] = "ASTM E2283",
        ["oxygen"] = "ASTM E1019, ISO 17053",
        ["pitting potential"] = "ASTM G61",
    };

    public static ReportPart Of(ReportInput input)
    {
        string property = input.Verdict.Rule.Property;
        string[] judged = [.. new[] { property, "hardness" }.Distinct().Where(s_standards.ContainsKey).Select(p => $"{p}: {s_standards[p]}")];
        List<Term> terms =
        [
            new("Methods after", judged.Length == 0 ? "no standard is named for this property" : $"{string.Join("; ", judged)} (the edition in force is not recorded)"),
            new("Deviations", Rich.OrNotRecorded(input.Enquiry.Deviations)),
        ];
        if (input.Verdict.Stratum.Geometry?.Contains("unnotched", StringComparison.OrdinalIgnoreCase) == true)
            terms.Add(new("Coupons", "unnotched coupons are not the standard specimens of ASTM E23 or ISO 148-1 (from memory); their energies compare with each other, not with published values of notched ones"));
        string[] moments = [.. input.Coupons.Select(c => c.HardnessMoment).OfType<HardnessMoment>().Distinct().Select(m => m == HardnessMoment.BeforeTest ? "before the test, on the whole coupon" : "after the test, on the halves")];
        terms.Add(new("Hardness read", moments.Length == 0 ? Rich.NotRecorded : string.Join("; of others ", moments)));
        return new("Standards and deviations", [new Block.TermList(terms)]);
    }
}
