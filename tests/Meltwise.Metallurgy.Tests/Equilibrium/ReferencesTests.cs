using System.Text.RegularExpressions;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Equilibrium;

public sealed partial class ReferencesTests
{
    [GeneratedRegex(@"\[(?<key>[A-Z][A-Za-z]+\d{4})\]", RegexOptions.ExplicitCapture, 2000)]
    private static partial Regex Citation();

    [Fact]
    public void Every_source_cited_by_the_equilibrium_is_listed()
    {
        string list = File.ReadAllText(Path.Combine(Repository.Root, "docs", "references.bib"));
        string[] files =
        [
            .. Directory.EnumerateFiles(Path.Combine(Repository.Root, "src", "Meltwise.Metallurgy", "Equilibrium"), "*.cs", SearchOption.AllDirectories),
            Path.Combine(Repository.Root, "docs", "methods", "Equilibrium.md"),
        ];
        string[] cited = [.. files.SelectMany(File.ReadLines).SelectMany(l => Citation().Matches(l).Select(m => m.Groups["key"].Value)).Distinct()];

        Assert.True(cited.Length > 10, $"Only {cited.Length} citations were found; the search is broken.");
        Assert.DoesNotContain(cited, key => !list.Contains("{" + key + ",", StringComparison.Ordinal));
    }
}
