using Meltwise.Casework.Asking;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Picturing;

/// <summary>The question to the pictures of an enquiry: asked with its margin, measured blind, opened. Each step is stamped.</summary>
public sealed class AskStructure(IBench bench)
{
    /// <summary>Asks, or asks anew. A question asked after an opening says so for good.</summary>
    public Outcome<Enquiry> Ask(string enquiry, double lower, double upper, string? fieldRule, IReadOnlyList<string> pictures, string? settingsOf, Hand hand) =>
        EnquiryStep.On(bench, enquiry, hand, "question to the pictures", (e, now) =>
        {
            if (!(lower is > 0 and < 1) || !(upper > 1 && double.IsFinite(upper))) return EnquiryStep.Against("The margin is a ratio below 1 and one above 1, such as 0.80 and 1.25.");
            if (e.ReferenceHeats.Count == 0 || e.CandidateHeats.Count == 0) return EnquiryStep.Against($"{e.Name} does not yet name a heat in both roles. Choose its heats first.");
            Dictionary<string, Picture> own = Pictures(bench, e).ToDictionary(p => p.Name, StringComparer.Ordinal);
            if (pictures.FirstOrDefault(p => !own.ContainsKey(p)) is { } foreign) return EnquiryStep.Against($"Picture {foreign} shows no heat of {e.Name}, or is set aside.");
            Picture[] chosen = pictures.Count == 0 ? [.. own.Values] : [.. pictures.Select(p => own[p])];
            if (chosen.Count(p => e.ReferenceHeats.Contains(p.Heat)) < 2 || chosen.Count(p => e.CandidateHeats.Contains(p.Heat)) < 2)
                return EnquiryStep.Against("A comparison of pictures needs at least two fields of each set.");
            StructureQuestion question = new()
            {
                Lower = lower,
                Upper = upper,
                FieldRule = string.IsNullOrWhiteSpace(fieldRule) ? null : fieldRule.Trim(),
                Pictures = [.. pictures],
                SettingsOf = string.IsNullOrWhiteSpace(settingsOf) ? null : settingsOf,
                AtUtc = now,
                By = hand.By,
                AskedAfterOpening = e.Structure is { } before && (before.OpenedAtUtc is not null || before.AskedAfterOpening),
            };
            return (e with { Structure = question }, []);
        });

    /// <summary>Opens the key: from now on it is said whose a field is, and the sets are judged.</summary>
    public Outcome<Enquiry> Open(string enquiry, Hand hand) => EnquiryStep.On(bench, enquiry, hand, "key of the pictures opened", (e, now) =>
    {
        if (e.Structure is null) return EnquiryStep.Against($"Nothing is asked of the pictures of {e.Name} yet.");
        if (e.Structure.OpenedAtUtc is not null) return EnquiryStep.Against("The key of the pictures is open already.");
        if (StructureComparison.Stored(bench, e) is null) return EnquiryStep.Against("The pictures are not measured yet; the key stays closed until they are.");
        return (e with { Structure = e.Structure with { OpenedAtUtc = now } }, []);
    });

    /// <summary>Pictures of the heats of an enquiry that are not set aside.</summary>
    public static IReadOnlyList<Picture> Pictures(IBench bench, Enquiry enquiry) =>
        [.. enquiry.ReferenceHeats.Concat(enquiry.CandidateHeats).SelectMany(bench.Pictures).Where(p => p.SetAside is null)];
}
