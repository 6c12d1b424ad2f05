using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Storage.Records;

/// <summary>Enquiries, what was derived for them, and the files that were taken in.</summary>
internal static class EnquiryTables
{
    // An enquiry carries its own stamps and amendments, so the storage asks no reason on top of them.
    public static RecordTable<Enquiry> Enquiries { get; } = new("enquiry", "enquiry_version", "enquiry", 1, ReasonRule.Never,
        [new("name"), new("title"), new("sheet")],
        e => [e.Name, e.Title, BenchJson.Write(e)],
        c => BenchJson.Read<Enquiry>((string)c[2]!));

    public static RecordTable<StoredDocument> Documents { get; } = new("document", "document_version", null, 2, ReasonRule.Never,
        [new("enquiry", RefersTo: "enquiry"), new("kind"), new("json"), new("made_at_utc")],
        d => [d.Enquiry, d.Kind, d.Json, StoredForms.Instant(d.AtUtc)],
        c => new((string)c[0]!, (string)c[1]!, (string)c[2]!, StoredForms.ToInstant(c[3])));

    public static RecordTable<BenchChange.NoteIntake> Intakes { get; } = new("intake", "intake_version", null, 1, ReasonRule.Never,
        [new("digest"), new("file_name"), new("row_count", Stored.Integer)],
        i => [i.Digest, i.FileName, i.Rows],
        c => new((string)c[1]!, (string)c[0]!, (int)c[2]!));
}
