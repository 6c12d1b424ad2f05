using System.Xml.Linq;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Architecture.Tests;

public sealed class LayeringTests
{
    // The table is the architecture: what each project may see of ours. A new arrow is a one-line diff here, and a decision record.
    private static readonly Dictionary<string, string[]> s_allowed = new(StringComparer.Ordinal)
    {
        ["Domain"] = [],
        ["Statistics"] = [],
        ["Metallurgy"] = ["Statistics"],
        ["Imaging"] = ["Statistics"],
        ["Casework"] = ["Domain", "Statistics", "Metallurgy", "Imaging"],
        ["Storage"] = ["Casework"],
        ["Publishing"] = ["Casework"],
        ["Web"] = ["Casework", "Storage", "Publishing"],
        ["Cli"] = ["Casework", "Storage", "Publishing", "Web"],
    };

    [Fact]
    public void Projects_see_only_what_the_table_allows()
    {
        foreach (string folder in Directory.EnumerateDirectories(Path.Combine(Repository.Root, "src")))
        {
            string name = Path.GetFileName(folder)["Meltwise.".Length..];
            Assert.True(s_allowed.ContainsKey(name), $"src/Meltwise.{name} is not in the table of allowed arrows. Add it there, with a decision record.");
            IEnumerable<string> seen = XDocument.Load(Path.Combine(folder, $"Meltwise.{name}.csproj")).Descendants("ProjectReference")
                .Select(r => Path.GetFileNameWithoutExtension(r.Attribute("Include")!.Value)["Meltwise.".Length..]);
            Assert.Empty(seen.Except(s_allowed[name]));
        }
    }
}
