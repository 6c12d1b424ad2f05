using System.Text.RegularExpressions;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Metallurgy.Tests;

/// <summary>Every source that a page of methods or the metallurgy cites by key has its entry in docs/references.bib, once.</summary>
public sealed partial class ReferencesTests
{
    private static readonly string s_list = File.ReadAllText(Path.Combine(Repository.Root, "docs", "references.bib"));

    [GeneratedRegex(@"\[(?<key>(ASTM-)?[A-Z][A-Za-z]*-?\d[\w-]*)\](?!\()", RegexOptions.ExplicitCapture, 2000)]
    private static partial Regex Citation();

    [GeneratedRegex(@"^@\w+\{(?<key>[^,]+),", RegexOptions.ExplicitCapture | RegexOptions.Multiline, 2000)]
    private static partial Regex Entry();

    [Fact]
    public void Every_cited_source_is_listed()
    {
        IEnumerable<string> files =
        [
            .. Directory.EnumerateFiles(Path.Combine(Repository.Root, "docs", "methods"), "*.md"),
            .. Directory.EnumerateFiles(Path.Combine(Repository.Root, "src", "Meltwise.Metallurgy"), "*.cs", SearchOption.AllDirectories)
                .Where(f => !f.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal)),
        ];
        string[] cited = [.. files.SelectMany(f => Citation().Matches(File.ReadAllText(f)).Select(m => m.Groups["key"].Value)).Distinct()];
        Assert.True(cited.Length > 40, $"Only {cited.Length} citations were found; the search is broken.");
        Assert.DoesNotContain(cited, key => !s_list.Contains("{" + key + ",", StringComparison.Ordinal));
    }

    [Fact]
    public void No_entry_stands_twice()
    {
        string[] keys = [.. Entry().Matches(s_list).Select(m => m.Groups["key"].Value)];
        Assert.True(keys.Length > 100);
        Assert.Equal(keys.Distinct(StringComparer.Ordinal), keys);
    }

    [Theory] // The pages of the metallurgy, each with at least one key.
    [InlineData("Equilibrium")]
    [InlineData("MartensiteStart")]
    [InlineData("QuenchedHardness")]
    [InlineData("TemperingParameter")]
    [InlineData("CoarseningRate")]
    [InlineData("OxygenAssessment")]
    [InlineData("GradeConformity")]
    [InlineData("Explainer")]
    public void A_page_of_the_metallurgy_cites_by_key(string page) =>
        Assert.Matches(Citation(), File.ReadAllText(Path.Combine(Repository.Root, "docs", "methods", page + ".md")));
}
