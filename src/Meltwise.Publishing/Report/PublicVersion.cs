using System.Text.Json.Nodes;
using Meltwise.Casework.Explaining;
using Meltwise.Casework.Judging;
using Meltwise.Domain;

namespace Meltwise.Publishing.Report;

/// <summary>Makes the version that names nobody: sources, heats, client, payer, laboratories, instruments and people get labels, in records and in every text.</summary>
internal static class PublicVersion
{
    /// <summary>The input with labels for names.</summary>
    public static (ReportInput Input, PrivateNames Names) Of(ReportInput input)
    {
        PrivateNames names = new(Labels(input));
        Enquiry e = input.Enquiry;
        string? Text(string? text) => text is null ? null : names.InText(text);
        string Name(string name) => names.Of(name);
        CouponKey Key(CouponKey k) => new(Name(k.Heat), names.InText(k.Coupon));
        Enquiry enquiry = e with
        {
            Name = Name(e.Name),
            Title = names.InText(e.Title),
            Client = null,
            PaidBy = Text(e.PaidBy),
            Purpose = Text(e.Purpose),
            WaitsOn = null,
            Work = [.. e.Work.Select(w => w with { Task = names.InText(w.Task), By = w.IsOutside ? "an outside laboratory" : "the laboratory" })],
            Authoriser = null,
            ConflictsOfInterest = Text(e.ConflictsOfInterest),
            Notes = null,
            ReferenceHeats = [.. e.ReferenceHeats.Select(Name)],
            CandidateHeats = [.. e.CandidateHeats.Select(Name)],
            Coupons = [.. e.Coupons.Select(Key)],
            Lock = e.Lock is { } l ? l with { By = Name(l.By) } : null,
            Amendments = [.. e.Amendments.Select(a => a with { By = Name(a.By), Reason = names.InText(a.Reason) })],
            Exclusions = [.. e.Exclusions.Select(x => x with { Coupon = Key(x.Coupon), By = Name(x.By), Note = names.InText(x.Note) })],
        };
        return (input with
        {
            Enquiry = enquiry,
            Verdict = Verdict(input.Verdict, names),
            Heats = [.. input.Heats.Select(h => h with { Name = Name(h.Name), Source = h.Source is null ? null : Name(h.Source), Grade = Text(h.Grade), Consolidation = Text(h.Consolidation), Product = Text(h.Product), Received = null, Notes = null })],
            Sources = [.. input.Sources.Select(s => new Source(Name(s.Name), s.PublicLabel))],
            Grades = [.. input.Grades.Select(g => g with { PrivateAlias = null })],
            Chemistry = [.. input.Chemistry.Select(c => c with { Heat = Name(c.Heat), Laboratory = c.Laboratory is null ? null : Name(c.Laboratory), Method = Text(c.Method), Date = null })],
            HotHistories = [.. input.HotHistories.Select(h => h with { Heat = Name(h.Heat), Steps = [.. h.Steps.Select(s => s with { Kind = names.InText(s.Kind) })], Atmosphere = Text(h.Atmosphere), Cooling = Text(h.Cooling), Told = null })],
            Treatments = [.. input.Treatments.Select(t => t with { Name = names.InText(t.Name), Notes = Text(t.Notes) })],
            Coupons = [.. input.Coupons.Select(c => c with { Heat = Name(c.Heat), Name = names.InText(c.Name), Load = Text(c.Load), Treatment = Text(c.Treatment), Geometry = Text(c.Geometry), Code = Text(c.Code), Position = Text(c.Position) })],
            // Who brought it, marks, certificate and notes lead to the source.
            Custody = [.. input.Custody.Select(c => new Custody(Name(c.Heat), Size: Text(c.Size), Retained: Text(c.Retained), RetainedUntil: c.RetainedUntil))],
            Origins = [.. input.Origins.Select(o => o with { Coupon = Key(o.Coupon), SeenBy = Text(o.SeenBy), Notes = Text(o.Notes) })],
            Pictures = input.Pictures is { } p ? Pictures(p, names) : null,
            Instruments = [.. input.Instruments.Select(i => i with { Name = Name(i.Name), Notes = Text(i.Notes) })],
            Verifications = [.. input.Verifications.Select(v => v with { Instrument = Name(v.Instrument), Reference = null, Notes = null })],
            Trend = input.Trend is { } t0 ? t0 with
            {
                Groups = [.. t0.Groups.Select((g, i) => g with { Name = $"earlier heat {i + 1}", Link = null, Note = Text(g.Note) })],
                Lots = [.. t0.Lots.Select(l => l with { Name = names.InText(l.Name), Link = null })],
            } : null,
            Explanation = [.. input.Explanation.Select(names.InText)],
            Computed = Computed(input.Computed, names),
            Laboratory = null,
        }, names);
    }

    private static Dictionary<string, string> Labels(ReportInput input)
    {
        Dictionary<string, string> labels = new(StringComparer.OrdinalIgnoreCase);
        void Add(string? name, string label)
        {
            if (!string.IsNullOrWhiteSpace(name))
                labels.TryAdd(name, label);
        }
        Enquiry e = input.Enquiry;
        for (int i = 0; i < e.ReferenceHeats.Count; i++)
            Add(e.ReferenceHeats[i], e.ReferenceHeats.Count == 1 ? "Lot R" : $"Lot R{i + 1}");
        for (int i = 0; i < e.CandidateHeats.Count; i++)
            Add(e.CandidateHeats[i], e.CandidateHeats.Count == 1 ? "Lot C" : $"Lot C{i + 1}");
        for (int i = 0; i < input.Sources.Count; i++)
            Add(input.Sources[i].Name, string.IsNullOrWhiteSpace(input.Sources[i].PublicLabel) ? $"Source {(char)('A' + (i % 26))}" : input.Sources[i].PublicLabel);
        Add(e.Client, "the client");
        Add(e.Name, "Enquiry");
        foreach (Grade grade in input.Grades)
            Add(grade.PrivateAlias, grade.Name);
        string[] laboratories = [.. input.Chemistry.Select(c => c.Laboratory).OfType<string>().Distinct(StringComparer.Ordinal)];
        for (int i = 0; i < laboratories.Length; i++)
            Add(laboratories[i], $"Laboratory {i + 1}");
        Add(input.Laboratory, "the laboratory");
        for (int i = 0; i < input.Instruments.Count; i++)
        {
            // A name that only says what the instrument is gives nobody away.
            if (!input.Instruments[i].Name.StartsWith(input.Instruments[i].Kind, StringComparison.OrdinalIgnoreCase))
                Add(input.Instruments[i].Name, $"Instrument {i + 1}");
        }
        foreach (PartOfWork part in e.Work)
            Add(part.By, part.IsOutside ? "an outside laboratory" : "the laboratory");
        Add(e.Authoriser, "the laboratory");
        foreach (Custody custody in input.Custody)
        {
            Add(custody.ReceivedFrom, "the one who brought it");
            Add(custody.ReceivedBy, "the laboratory");
            Add(custody.Certificate, "a certificate");
        }
        foreach (string person in e.Amendments.Select(a => a.By).Concat(e.Exclusions.Select(x => x.By)).Append(e.Lock?.By ?? ""))
            Add(person, "the laboratory");
        foreach (string group in input.Trend?.Groups.Select(g => g.Name) ?? [])
            Add(group, "an earlier heat");
        return labels.Where(l => !string.Equals(l.Key, l.Value, StringComparison.OrdinalIgnoreCase)).ToDictionary(l => l.Key, l => l.Value, StringComparer.OrdinalIgnoreCase);
    }

    private static PicturePart Pictures(PicturePart part, PrivateNames names)
    {
        string? Text(string? text) => text is null ? null : names.InText(text);
        ReportPicture Public(ReportPicture picture) => picture with { Caption = names.InText(picture.Caption) };
        return part with
        {
            Sets = [.. part.Sets.Select(s => s with { Heat = names.Of(s.Heat), Median = Public(s.Median), Worst = s.Worst is { } w ? Public(w) : null })],
            Section = Text(part.Section),
            Etch = Text(part.Etch),
            Microscope = Text(part.Microscope),
            FieldRule = Text(part.FieldRule),
            Processing = Text(part.Processing),
            Notes = [.. part.Notes.Select(names.InText)],
        };
    }

    private static Verdict Verdict(Verdict verdict, PrivateNames names)
    {
        JsonNode tree = Replaced(JsonNode.Parse(VerdictJson.Write(verdict)), names) ?? throw new InvalidOperationException("A verdict became nothing.");
        return VerdictJson.Read(tree.ToJsonString());
    }

    private static ExplanationDocument? Computed(ExplanationDocument? document, PrivateNames names) =>
        document is null ? null : ExplanationJson.TryRead(Replaced(JsonNode.Parse(ExplanationJson.Write(document)), names)?.ToJsonString() ?? "{}");

    private static JsonNode? Replaced(JsonNode? node, PrivateNames names) => node switch
    {
        JsonObject o => new JsonObject(o.Select(p => new KeyValuePair<string, JsonNode?>(names.InText(p.Key), Replaced(p.Value, names)))),
        JsonArray a => new JsonArray([.. a.Select(n => Replaced(n, names))]),
        JsonValue v when v.TryGetValue(out string? text) => JsonValue.Create(names.Of(text)),
        _ => node?.DeepClone(),
    };
}
