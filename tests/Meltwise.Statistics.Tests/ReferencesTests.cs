using System.Text.RegularExpressions;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Statistics.Tests;

/// <summary>Every source that a method cites has its entry in docs/references.bib.</summary>
public sealed partial class ReferencesTests
{
    [GeneratedRegex(@"\[(?<key>(ASTM-)?[A-Z][A-Za-z]*-?\d[\w-]*|DLMF|MontgomeryDesign)\]", RegexOptions.ExplicitCapture, 2000)]
    private static partial Regex Citation();

    [Fact]
    public void Every_cited_source_is_listed()
    {
        string list = File.ReadAllText(Path.Combine(Repository.Root, "docs", "references.bib"));
        string[] cited = [.. Directory.EnumerateFiles(Path.Combine(Repository.Root, "src", "Meltwise.Statistics"), "*.cs", SearchOption.AllDirectories)
            .Where(f => !f.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal))
            .SelectMany(f => File.ReadLines(f).Where(l => l.TrimStart().StartsWith("///", StringComparison.Ordinal)))
            .SelectMany(l => Citation().Matches(l).Select(m => m.Groups["key"].Value)).Distinct()];
        Assert.True(cited.Length > 50, $"Only {cited.Length} citations were found; the search is broken.");
        Assert.DoesNotContain(cited, key => !list.Contains("{" + key + ",", StringComparison.Ordinal));
    }
}
