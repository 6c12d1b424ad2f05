using Meltwise.Casework.Explaining;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Casework.Studying;
using Meltwise.Domain;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report;

/// <summary>Everything a report is built from: the enquiry, its verdict, and the records of the bench behind them.</summary>
public sealed record ReportInput
{
    /// <summary>The enquiry.</summary>
    public required Enquiry Enquiry { get; init; }

    /// <summary>Its verdict. Every number of the answer is read from here.</summary>
    public required Verdict Verdict { get; init; }

    /// <summary>Heats in its roles.</summary>
    public IReadOnlyList<Heat> Heats { get; init; } = [];

    /// <summary>Sources of the bench.</summary>
    public IReadOnlyList<Source> Sources { get; init; } = [];

    /// <summary>Grades of the bench.</summary>
    public IReadOnlyList<Grade> Grades { get; init; } = [];

    /// <summary>Chemistry of the heats.</summary>
    public IReadOnlyList<ChemistryResult> Chemistry { get; init; } = [];

    /// <summary>What the heats went through hot, where recorded.</summary>
    public IReadOnlyList<HotHistory> HotHistories { get; init; } = [];

    /// <summary>Treatments of the coupons.</summary>
    public IReadOnlyList<Treatment> Treatments { get; init; } = [];

    /// <summary>Traces of their furnace loads; those set aside are not among them.</summary>
    public IReadOnlyList<FurnaceTrace> FurnaceTraces { get; init; } = [];

    /// <summary>Coupons of the enquiry.</summary>
    public IReadOnlyList<Coupon> Coupons { get; init; } = [];

    /// <summary>Instruments that were used.</summary>
    public IReadOnlyList<Instrument> Instruments { get; init; } = [];

    /// <summary>Their verifications.</summary>
    public IReadOnlyList<Verification> Verifications { get; init; } = [];

    /// <summary>The history on the trend; null when there is none.</summary>
    public TrendInput? Trend { get; init; }

    /// <summary>Interpretation, a paragraph an entry, each with its strength in words; empty when none is given.</summary>
    public IReadOnlyList<string> Explanation { get; init; } = [];

    /// <summary>How much of the hardness difference chemistry explains; null when it was not computed.</summary>
    public ExplanationDocument? Computed { get; init; }

    /// <summary>Custody of the heats' material, as far as it is recorded.</summary>
    public IReadOnlyList<Custody> Custody { get; init; } = [];

    /// <summary>Fracture origins of the coupons; a coupon without one was not examined.</summary>
    public IReadOnlyList<FractureOrigin> Origins { get; init; } = [];

    /// <summary>The structure in pictures; null when no pictures belong to the enquiry.</summary>
    public PicturePart? Pictures { get; init; }

    /// <summary>A treatment study that belongs to the report; null when none was chosen.</summary>
    public StoredStudy? Study { get; init; }

    /// <summary>The laboratory that reports; null when not recorded.</summary>
    public string? Laboratory { get; init; }

    /// <summary>Version of the report: <c>draft 2</c>, <c>issue 1</c>.</summary>
    public string VersionLabel { get; init; } = "draft 1";

    /// <summary>When it is made.</summary>
    public required DateTime AtUtc { get; init; }

    /// <summary>True for the demonstration bench: every page says that all is invented.</summary>
    public bool IsDemonstration { get; init; }

    /// <summary>Collects the records from a bench.</summary>
    /// <param name="bench">The bench.</param>
    /// <param name="enquiry">The enquiry.</param>
    /// <param name="verdict">Its verdict.</param>
    /// <param name="atUtc">When the report is made.</param>
    public static ReportInput FromBench(IBench bench, Enquiry enquiry, Verdict verdict, DateTime atUtc)
    {
        string[] names = [.. enquiry.ReferenceHeats, .. enquiry.CandidateHeats];
        HashSet<CouponKey> chosen = [.. enquiry.Coupons];
        Coupon[] coupons = [.. names.SelectMany(bench.Coupons).Where(c => chosen.Count == 0 || chosen.Contains(c.Key))];
        HashSet<string> treatments = [.. coupons.Select(c => c.Treatment).OfType<string>()];
        CouponTable tested = bench.CouponTable(new(names, Property: verdict.Rule.Property, Enquiry: enquiry.Name));
        HashSet<string> instruments = [.. tested.Rows.Select(r => r.Instrument).OfType<string>()];
        return new()
        {
            Enquiry = enquiry,
            Verdict = verdict,
            AtUtc = atUtc,
            IsDemonstration = bench.Card.IsDemonstration,
            Heats = [.. bench.Heats().Where(h => names.Contains(h.Name)).OrderBy(h => Array.IndexOf(names, h.Name))],
            Sources = bench.Sources(),
            Grades = bench.Grades(),
            Chemistry = [.. names.SelectMany(n => bench.Chemistry(n))],
            Custody = [.. names.SelectMany(n => bench.Custody(n))],
            Origins = [.. names.SelectMany(n => bench.FractureOrigins(n)).Where(o => coupons.Any(c => c.Key == o.Coupon))],
            HotHistories = [.. names.Select(bench.FindHotHistory).OfType<HotHistory>()],
            Pictures = StructurePictures.Of(bench, enquiry),
            Treatments = [.. bench.Treatments().Where(t => treatments.Contains(t.Name))],
            FurnaceTraces = [.. coupons.Select(c => c.Load).OfType<string>().Distinct().Order(StringComparer.Ordinal).SelectMany(bench.FurnaceTraces).Where(t => t.SetAside is null)],
            Coupons = coupons,
            Instruments = [.. bench.Instruments().Where(i => instruments.Contains(i.Name) || (i.Property == "hardness" && instruments.Count > 0))],
            Verifications = [.. bench.Verifications().Where(v => v.On <= DateOnly.FromDateTime(atUtc))],
            Computed = bench.FindDocument(enquiry.Name, EnquiryExplanation.DocumentKind) is { } stored ? ExplanationJson.TryRead(stored.Json) : null,
            Study = EnquiryStudy.Stored(bench, enquiry.Name),
            Trend = TrendHistory.Of(bench.CouponTable(new(Property: verdict.Rule.Property)), verdict),
        };
    }
}
