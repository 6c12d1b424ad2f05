namespace Meltwise.Casework.Explaining;

/// <summary>Notes of an explanation for reading: what is said alike of both heats stands once, with both names.</summary>
public static class NotesOfBoth
{
    private const string Mark = ": ";

    /// <summary>The notes in their order, one that only differs in the name of the heat from an earlier one joined to it.</summary>
    /// <param name="document">The explanation; its stored notes stay as they are.</param>
    public static IReadOnlyList<string> Of(ExplanationDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        return Joined(document.Notes, document.Reference.Heat, document.Candidate.Heat);
    }

    /// <summary>The same for any notes about two named heats.</summary>
    public static IReadOnlyList<string> Joined(IReadOnlyList<string> notes, string reference, string candidate)
    {
        ArgumentNullException.ThrowIfNull(notes);
        HashSet<string> of = [.. notes];
        List<string> joined = [];
        foreach (string note in notes)
        {
            if (Said(note, reference) is { } first && of.Contains(candidate + Mark + first)) joined.Add($"{reference} and {candidate}{Mark}{first}");
            else if (Said(note, candidate) is not { } second || !of.Contains(reference + Mark + second)) joined.Add(note);
        }
        return joined;
    }

    private static string? Said(string note, string heat) => note.StartsWith(heat + Mark, StringComparison.Ordinal) ? note[(heat.Length + Mark.Length)..] : null;
}
