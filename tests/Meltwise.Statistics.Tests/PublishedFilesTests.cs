using System.Text.RegularExpressions;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Statistics.Tests;

/// <summary>Every data set and oracle kept beside these tests is read by one of them: none lies here unused.</summary>
public sealed class PublishedFilesTests
{
    [Fact]
    public void Every_file_is_named_by_a_test()
    {
        string folder = Path.Combine(Repository.Root, "tests", "Meltwise.Statistics.Tests");
        string tests = string.Concat(Directory.EnumerateFiles(folder, "*.cs", SearchOption.AllDirectories)
            .Where(f => !f.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal)).Select(File.ReadAllText));
        string[] files = [.. new[] { "Published", "Oracles" }.SelectMany(d => Directory.EnumerateFiles(Path.Combine(folder, d), "*", SearchOption.AllDirectories))
            .Where(f => Path.GetExtension(f) is ".json" or ".csv" && Path.GetFileName(f) != "index.json")];
        Assert.True(files.Length > 60, $"Only {files.Length} files were found; the search is broken.");
        Assert.DoesNotContain(files, f => !Regex.IsMatch(tests, $@"\b{Regex.Escape(Path.GetFileNameWithoutExtension(f))}\b", RegexOptions.None, TimeSpan.FromSeconds(5)));
    }
}
