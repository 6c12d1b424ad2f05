using System.Text.Json.Nodes;
using Meltwise.Casework.Explaining;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Studying;
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
        string? Text(string? text) => text is null ? null : names.InTyped(text);
        string Name(string name) => names.Of(name);
        string? Checks(string? from) => from is null ? null : "the laboratory’s own checks";
        DecisionRule Rule(DecisionRule rule) => rule with { SessionSdFrom = Checks(rule.SessionSdFrom) };
        CouponKey Key(CouponKey k) => new(Name(k.Heat), names.InText(k.Coupon));
        Enquiry enquiry = e with
        {
            Name = Name(e.Name),
            Title = names.InTyped(e.Title),
            Client = null,
            PaidBy = Text(e.PaidBy),
            Purpose = Text(e.Purpose),
            WaitsOn = null,
            Work = [.. e.Work.Select(w => w with { Task = names.InTyped(w.Task), By = w.IsOutside ? "an outside laboratory" : "the laboratory" })],
            Authoriser = null,
            ConflictsOfInterest = Text(e.ConflictsOfInterest),
            Deviations = Text(e.Deviations),
            Notes = null,
            ReferenceHeats = [.. e.ReferenceHeats.Select(Name)],
            CandidateHeats = [.. e.CandidateHeats.Select(Name)],
            Coupons = [.. e.Coupons.Select(Key)],
            Rule = e.Rule is { } own ? Rule(own) : null,
            Structure = e.Structure is { } s ? s with { By = "the laboratory", FieldRule = Text(s.FieldRule) } : null,
            Lock = e.Lock is { } l ? l with { By = Name(l.By) } : null,
            Amendments = [.. e.Amendments.Select(a => a with { By = Name(a.By), Reason = names.InTyped(a.Reason), Was = Rule(a.Was), Became = Rule(a.Became) })],
            Exclusions = [.. e.Exclusions.Select(x => x with { Coupon = Key(x.Coupon), By = Name(x.By), Note = names.InTyped(x.Note) })],
        };
        return (input with
        {
            Enquiry = enquiry,
            Verdict = Verdict(input.Verdict with { Rule = input.Verdict.Rule with { SessionSdFrom = Checks(input.Verdict.Rule.SessionSdFrom) } }, names),
            Heats = [.. input.Heats.Select(h => h with { Name = Name(h.Name), Source = h.Source is null ? null : Name(h.Source), Grade = Text(h.Grade), Consolidation = Text(h.Consolidation), Product = Text(h.Product), Received = null, Notes = null })],
            Sources = [.. input.Sources.Select(s => new Source(Name(s.Name), s.PublicLabel))],
            Grades = [.. input.Grades.Select(g => g with { PrivateAlias = null })],
            Chemistry = [.. input.Chemistry.Select(c => c with { Heat = Name(c.Heat), Laboratory = c.Laboratory is null ? null : Name(c.Laboratory), Method = Text(c.Method), Date = null })],
            HotHistories = [.. input.HotHistories.Select(h => h with { Heat = Name(h.Heat), Steps = [.. h.Steps.Select(s => s with { Kind = names.InText(s.Kind) })], Atmosphere = Text(h.Atmosphere), Cooling = Text(h.Cooling), Told = null })],
            Treatments = [.. input.Treatments.Select(t => t with { Name = names.InTyped(t.Name), Notes = Text(t.Notes) })],
            // The recorder's own file may name anybody; its readings may stand.
            FurnaceTraces = [.. input.FurnaceTraces.Select(t => t with { Load = names.InTyped(t.Load), Step = Text(t.Step), Channel = "load", StartedAt = null, FileName = null, Original = null })],
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
                Lots = [.. t0.Lots.Select(l => l with { Name = string.Join(", ", l.Name.Split(", ").Select(Name)), Link = null })],
            } : null,
            Explanation = [.. input.Explanation.Select(names.InTyped)],
            Computed = Computed(input.Computed, names),
            Study = input.Study is { } study ? Public(study, names) : null,
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
        string? Text(string? text) => text is null ? null : names.InTyped(text);
        ReportPicture Public(ReportPicture picture) => picture with { Caption = names.InTyped(picture.Caption) };
        return part with
        {
            Sets = [.. part.Sets.Select(s => s with { Heat = names.Of(s.Heat), Median = Public(s.Median), Worst = s.Worst is { } w ? Public(w) : null })],
            Section = Text(part.Section),
            Etch = Text(part.Etch),
            Microscope = Text(part.Microscope),
            FieldRule = Text(part.FieldRule),
            Processing = Text(part.Processing),
            Notes = [.. part.Notes.Select(names.InTyped)],
        };
    }

    private static Verdict Verdict(Verdict verdict, PrivateNames names)
    {
        JsonNode tree = Replaced(JsonNode.Parse(VerdictJson.Write(verdict)), names) ?? throw new InvalidOperationException("A verdict became nothing.");
        return VerdictJson.Read(tree.ToJsonString());
    }

    // Groups may be sources or heats, alone or joined with other columns.
    private static StoredStudy Public(StoredStudy stored, PrivateNames names)
    {
        string Group(string group) => string.Join(" / ", group.Split(" / ").Select(names.Of));
        Study study = stored.Result;
        return stored with
        {
            Choice = stored.Choice with { Control = stored.Choice.Control is { } c ? Group(c) : null, Order = stored.Choice.Order is { } o ? [.. o.Select(Group)] : null, Where = stored.Choice.Where.ToDictionary(w => w.Key, w => names.Of(w.Value)) },
            Result = study with
            {
                Control = study.Control is { } control ? Group(control) : null,
                Groups = [.. study.Groups.Select(g => g with { Name = Group(g.Name) })],
                Comparisons = [.. study.Comparisons.Select(p => p with { First = Group(p.First), Second = Group(p.Second), Text = p.Text.Replace($"{p.Second} against {p.First}:", $"{Group(p.Second)} against {Group(p.First)}:", StringComparison.Ordinal) })],
                NoChangeBeyond = study.NoChangeBeyond is { } level ? Group(level) : null,
                Coupons = [.. study.Coupons.Select((c, i) => c with { Group = Group(c.Group), Heat = names.Of(c.Heat), Coupon = $"coupon {i + 1}" })],
                Notes = [.. study.Notes.Select(names.InText)],
            },
        };
    }

    private static ExplanationDocument? Computed(ExplanationDocument? document, PrivateNames names) =>
        document is null ? null : ExplanationJson.TryRead(Replaced(JsonNode.Parse(ExplanationJson.Write(document with { Calibration = null })), names)?.ToJsonString() ?? "{}");

    // A field that is a name by its key is replaced whole; any other text only where it speaks of one, so that orientation L or unit J stays what it is.
    private static readonly HashSet<string> s_nameKeys = new(["heat", "heats", "source", "candidateSource", "referenceSource", "lot", "enquiry", "laboratory", "by"], StringComparer.Ordinal);

    private static JsonNode? Replaced(JsonNode? node, PrivateNames names, string? key = null) => node switch
    {
        JsonObject o => new JsonObject(o.Select(p => new KeyValuePair<string, JsonNode?>(Key(p.Key, names), Replaced(p.Value, names, p.Key)))),
        JsonArray a => new JsonArray([.. a.Select(n => Replaced(n, names, key))]),
        JsonValue v when v.TryGetValue(out string? text) => JsonValue.Create(Public(text, names, key)),
        _ => node?.DeepClone(),
    };

    // A coupon is keyed as heat/coupon where its name alone would not do.
    private static string Key(string key, PrivateNames names) => key.IndexOf('/', StringComparison.Ordinal) is var slash and > 0 ? names.Of(key[..slash]) + names.InText(key[slash..]) : names.InText(key);

    private static string Public(string text, PrivateNames names, string? key) =>
        key is not null && s_nameKeys.Contains(key) ? string.Join(", ", text.Split(", ").Select(names.Of)) : key is "cause" or "note" ? names.InTyped(text) : names.InText(text);
}
