namespace Meltwise.Statistics.MixedModels;

/// <summary>A random factor of a mixed model: heats, loads, heats within a source.</summary>
/// <param name="Name">What the levels are, as a reader knows it.</param>
/// <param name="Level">Level of each reading, 0 to <paramref name="Labels"/>.Count - 1.</param>
/// <param name="Labels">Name of each level.</param>
public sealed record RandomTerm(string Name, IReadOnlyList<int> Level, IReadOnlyList<string> Labels)
{
    /// <summary>A term from one label per reading, in order of first appearance.</summary>
    public static RandomTerm Of(string name, IEnumerable<string> labels)
    {
        ArgumentNullException.ThrowIfNull(labels);
        Dictionary<string, int> index = [];
        List<int> level = [];
        foreach (string label in labels)
        {
            if (!index.TryGetValue(label, out int i)) index.Add(label, i = index.Count);
            level.Add(i);
        }
        return new(name, level, [.. index.Keys]);
    }
}
