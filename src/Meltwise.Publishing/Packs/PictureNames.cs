using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Publishing.Packs;

/// <summary>Fits the names of a pack's pictures to a bench. Pictures are numbered on each bench by itself, so P-1 of a pack is hardly ever P-1 of the bench that takes it in.</summary>
internal static class PictureNames
{
    /// <summary>The records with names that are free on the bench; a picture whose file is there already takes the name it has there.</summary>
    public static PackRecords Fit(PackRecords records, IReadOnlyList<Picture> there)
    {
        Dictionary<string, string> byDigest = there.GroupBy(p => p.Sha256).ToDictionary(g => g.Key, g => g.First().Name, StringComparer.Ordinal), names = new(StringComparer.Ordinal);
        int next = 1 + there.Concat(records.Pictures).Select(NumberOf).DefaultIfEmpty(0).Max();
        HashSet<string> taken = [.. there.Select(p => p.Name)];
        foreach (Picture picture in records.Pictures)
            names[picture.Name] = byDigest.TryGetValue(picture.Sha256, out string? known) ? known : taken.Contains(picture.Name) ? string.Create(CultureInfo.InvariantCulture, $"P-{next++}") : picture.Name;
        string Name(string name) => names.GetValueOrDefault(name, name);
        return records with
        {
            // A picture that is there already keeps the record it has.
            Pictures = [.. records.Pictures.Where(p => !byDigest.ContainsKey(p.Sha256)).Select(p => p with { Name = Name(p.Name) })],
            Measurements = [.. records.Measurements.Select(m => m with { Picture = Name(m.Picture) })],
            Structure = records.Structure is { } s ? s with { Fields = [.. s.Fields.Select(f => f with { Picture = Name(f.Picture) })] } : null,
            Enquiry = records.Enquiry.Structure is { } q ? records.Enquiry with { Structure = q with { Pictures = [.. q.Pictures.Select(Name)], SettingsOf = q.SettingsOf is { } of ? Name(of) : null } } : records.Enquiry,
        };
    }

    private static int NumberOf(Picture picture) => picture.Name.StartsWith("P-", StringComparison.Ordinal) && int.TryParse(picture.Name.AsSpan(2), NumberStyles.None, CultureInfo.InvariantCulture, out int n) ? n : 0;
}
