namespace Meltwise.Casework.Intake;

/// <summary>Hands out one string for equal texts: a table repeats its heats, treatments and instruments on every row.</summary>
internal sealed class TextPool
{
    private const int LongestShared = 64;
    private const int MostShared = 65_536;

    private readonly HashSet<string> _shared = new(StringComparer.Ordinal);
    private readonly HashSet<string>.AlternateLookup<ReadOnlySpan<char>> _lookup;

    public TextPool() => _lookup = _shared.GetAlternateLookup<ReadOnlySpan<char>>();

    /// <summary>The text, shared when it is short and was seen before.</summary>
    public string Of(ReadOnlySpan<char> text)
    {
        if (text.IsEmpty) return "";
        if (text.Length > LongestShared) return text.ToString();
        if (_lookup.TryGetValue(text, out string? known)) return known;
        string made = text.ToString();
        if (_shared.Count < MostShared) _shared.Add(made);
        return made;
    }
}
