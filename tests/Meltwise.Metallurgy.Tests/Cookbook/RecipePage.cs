using System.Runtime.CompilerServices;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Cookbook;

/// <summary>A recipe is a test is a page: the page under cookbook/ holds the recipe's own code, cut from the test's file, and the table it makes; a stale page fails.</summary>
internal static class RecipePage
{
    private const string Write = "MELTWISE_WRITE_RECIPES";

    /// <summary>Compares page and table with what the recipe makes now.</summary>
    /// <param name="name">File name under cookbook/, without ending.</param>
    /// <param name="title">Title of the page.</param>
    /// <param name="text">What the recipe shows and where its numbers come from.</param>
    /// <param name="csv">The table, comma-separated, first line the heading.</param>
    /// <param name="sourceFile">Filled in by the compiler.</param>
    public static void Verify(string name, string title, string text, IReadOnlyList<string> csv, [CallerFilePath] string sourceFile = "")
    {
        string folder = Path.Combine(Repository.Root, "cookbook");
        string table = string.Join('\n', csv) + "\n";
        string page = $"# {title}\n\n{text}\n\n![{title}]({name}.svg)\n\n```csharp\n{Code(sourceFile)}\n```\n\nTable: [{name}.csv]({name}.csv)\n\n{Markdown(csv)}\n";
        if (Environment.GetEnvironmentVariable(Write) == "1")
        {
            Directory.CreateDirectory(folder);
            File.WriteAllText(Path.Combine(folder, name + ".csv"), table);
            File.WriteAllText(Path.Combine(folder, name + ".md"), page);
            Assert.Fail($"Recipe {name} was written. Look at the change, then run without {Write}.");
        }
        Assert.True(Read(folder, name + ".csv") == table, $"cookbook/{name}.csv is not what the recipe makes now. If the change is meant, run this test with {Write}=1 and look at the difference.");
        Assert.True(Read(folder, name + ".md") == page, $"cookbook/{name}.md is not what the recipe makes now. If the change is meant, run this test with {Write}=1 and look at the difference.");
    }

    private static string Read(string folder, string file) =>
        File.Exists(Path.Combine(folder, file)) ? File.ReadAllText(Path.Combine(folder, file)).ReplaceLineEndings("\n") : "";

    private static string Code(string sourceFile)
    {
        string[] lines = File.ReadAllLines(sourceFile);
        int from = Array.FindIndex(lines, l => l.Trim() == "// recipe"), to = Array.FindIndex(lines, l => l.Trim() == "// end of recipe");
        string[] code = lines[(from + 1)..to];
        int indent = code.Where(l => l.Trim().Length > 0).Min(l => l.Length - l.TrimStart().Length);
        return string.Join('\n', code.Select(l => l.Length >= indent ? l[indent..] : ""));
    }

    private static string Markdown(IReadOnlyList<string> csv)
    {
        string[] rows = [.. csv.Select(r => "| " + r.Replace(",", " | ", StringComparison.Ordinal) + " |")];
        string rule = "|" + string.Concat(Enumerable.Repeat(" --- |", csv[0].Split(',').Length));
        return string.Join('\n', [rows[0], rule, .. rows[1..]]);
    }
}
