using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Web.Enquiries;

/// <summary>All that the sheet of one enquiry shows, gathered once for its parts.</summary>
public sealed class EnquiryView
{
    private EnquiryView(Enquiry enquiry, IReadOnlyList<CouponRow> rows, StoredDocument? stored)
    {
        Enquiry = enquiry;
        Rows = rows;
        VerdictDocument = stored;
        Property = PropertyTable.Find(enquiry.Rule?.Property ?? "") ?? PropertyTable.ImpactEnergy;
        (Verdict, VerdictFault) = ReadVerdict(stored);
    }

    /// <summary>The enquiry.</summary>
    public Enquiry Enquiry { get; }

    /// <summary>Its coupons in order of testing, then of name.</summary>
    public IReadOnlyList<CouponRow> Rows { get; }

    /// <summary>Its primary property; impact energy while no rule is written.</summary>
    public Property Property { get; }

    /// <summary>The stored verdict with its day.</summary>
    public StoredDocument? VerdictDocument { get; }

    /// <summary>The stored verdict, or null.</summary>
    public Verdict? Verdict { get; }

    /// <summary>Why a stored verdict cannot be read, or null.</summary>
    public string? VerdictFault { get; }

    /// <summary>True while lots are under code and the key is sealed: all marks alike, codes only.</summary>
    public bool IsSealed => Enquiry.Key is { OpenedAtUtc: null };

    /// <summary>True when the heat is in the candidate role.</summary>
    public bool IsCandidate(string heat) => Enquiry.CandidateHeats.Contains(heat);

    /// <summary>Coupons with a reading of the primary property.</summary>
    public int Tested => Rows.Count(r => r.Readings.ContainsKey(Property.Name) || (Property == PropertyTable.Hardness && r.Hardness.Count > 0));

    /// <summary>Readings of the primary property on a coupon.</summary>
    public IReadOnlyList<CensoredValue> Of(CouponRow row) =>
        Property == PropertyTable.Hardness ? row.Hardness : row.Readings.TryGetValue(Property.Name, out IReadOnlyList<CensoredValue>? values) ? values : [];

    /// <summary>Mean of the primary property on a coupon, in its stored unit; null without a reading.</summary>
    public double? Mean(CouponRow row) => Of(row) is { Count: > 0 } values ? values.Average(v => Property.Convert(v.Value, v.Unit, Property.StoredUnit.Name)) : null;

    /// <summary>The name shown of a coupon: its code while the key is sealed.</summary>
    public string Label(CouponRow row) => IsSealed ? row.Code ?? "no code" : row.Code is { } code ? code : $"{row.Heat}/{row.Coupon}";

    /// <summary>Gathers the view, or null when there is no such enquiry.</summary>
    public static EnquiryView? Find(IBench bench, string name)
    {
        if (bench.FindEnquiry(name) is not { } enquiry)
        {
            return null;
        }

        string[] heats = [.. enquiry.ReferenceHeats, .. enquiry.CandidateHeats];
        IReadOnlyList<CouponRow> rows = heats.Length == 0 && enquiry.Coupons.Count == 0
            ? []
            : bench.CouponTable(new CouponSelection(heats.Length == 0 ? null : heats, enquiry.Coupons.Count == 0 ? null : enquiry.Coupons, null, enquiry.Name)).Rows;
        return new(enquiry, [.. rows.OrderBy(r => r.Order ?? int.MaxValue).ThenBy(r => r.Heat, StringComparer.Ordinal)], bench.FindDocument(name, EnquiryJudgement.DocumentKind));
    }

    /// <summary>The verdict of a stored document, or why it cannot be read; neither where none is stored.</summary>
    public static (Verdict? Verdict, string? Fault) ReadVerdict(StoredDocument? stored)
    {
        if (stored is null)
        {
            return (null, null);
        }

        try
        {
            return (VerdictJson.Read(stored.Json), null);
        }
        catch (ComparisonFaultException fault)
        {
            return (null, fault.Message);
        }
    }
}
