using Meltwise.Domain;

namespace Meltwise.Storage.Records;

/// <summary>Sources, grades, heats, their chemistry and their hot history.</summary>
internal static class SteelTables
{
    public static RecordTable<Source> Sources { get; } = new("source", "source_version", "source", 1, ReasonRule.WhenAltered,
        [new("name"), new("public_label"), new("notes")],
        s => [s.Name, s.PublicLabel, s.Notes],
        c => new((string)c[0]!, (string)c[1]!, (string?)c[2]));

    public static RecordTable<Grade> Grades { get; } = new("grade", "grade_version", "grade", 1, ReasonRule.WhenAltered,
        [new("name"), new("family"), new("private_alias")],
        g => [g.Name, g.Family, g.PrivateAlias],
        c => new((string)c[0]!, (string?)c[1], (string?)c[2]));

    public static RecordTable<Heat> Heats { get; } = new("heat", "heat_version", "heat", 1, ReasonRule.WhenAltered,
        [
            new("name"), new("source", RefersTo: "source"), new("grade", RefersTo: "grade"), new("route"), new("consolidation"), new("product"),
            new("received"), new("notes"),
        ],
        h => [h.Name, h.Source, h.Grade, h.Route, h.Consolidation, h.Product, StoredForms.Day(h.Received), h.Notes],
        c => new((string)c[0]!, (string?)c[1], (string?)c[2], (string?)c[3], (string?)c[4], (string?)c[5], StoredForms.ToDayOrNull(c[6]), (string?)c[7]));

    public static RecordTable<Custody> Custody { get; } = new("custody", "custody_version", null, 1, ReasonRule.WhenAltered,
        [
            new("heat", RefersTo: "heat"), new("received_from"), new("received_by"), new("size"), new("marks_as_found"), new("certificate"), new("certificate_on"),
            new("retained"), new("retained_until"), new("notes"),
        ],
        k => [k.Heat, k.ReceivedFrom, k.ReceivedBy, k.Size, k.MarksAsFound, k.Certificate, StoredForms.Day(k.CertificateOn), k.Retained, StoredForms.Day(k.RetainedUntil), k.Notes],
        c => new((string)c[0]!, (string?)c[1], (string?)c[2], (string?)c[3], (string?)c[4], (string?)c[5], StoredForms.ToDayOrNull(c[6]), (string?)c[7],
            StoredForms.ToDayOrNull(c[8]), (string?)c[9]));

    public static RecordTable<HotHistory> HotHistories { get; } = new("hot history", "hot_history_version", null, 1, ReasonRule.WhenAltered,
        [new("heat", RefersTo: "heat"), new("steps"), new("largest_powder_um", Stored.Real), new("atmosphere"), new("cooling"), new("told")],
        h => [h.Heat, BenchJson.Write(h.Steps), h.LargestPowderUm, h.Atmosphere, h.Cooling, h.Told],
        c => new((string)c[0]!, BenchJson.Read<IReadOnlyList<HotStep>>((string)c[1]!), (double?)c[2], (string?)c[3], (string?)c[4], (string?)c[5]));

    public static RecordTable<ChemistryResult> Chemistry { get; } = new("chemistry", "chemistry_version", null, 5, ReasonRule.WhenAltered,
        [
            new("heat", RefersTo: "heat"), new("element"), new("method", MayBeEmpty: true), new("laboratory", MayBeEmpty: true), new("analysed_on", MayBeEmpty: true), new("typed_value", Stored.Real), new("unit"),
            new("censoring"), new("typed"), new("expanded_uncertainty", Stored.Real), new("coverage_factor", Stored.Real),
        ],
        r =>
        [
            r.Heat, r.Element, r.Method, r.Laboratory, StoredForms.Day(r.Date), r.Typed.Value, r.Typed.Unit, StoredForms.Of(r.Typed.Censoring), r.Typed.Text,
            r.ExpandedUncertainty, r.CoverageFactor,
        ],
        c => new((string)c[0]!, (string)c[1]!, new((double)c[5]!, (string)c[6]!, StoredForms.ToCensoring((string)c[7]!), (string)c[8]!), (string?)c[2], (string?)c[3],
            (double?)c[9], (double?)c[10], StoredForms.ToDayOrNull(c[4])));
}
