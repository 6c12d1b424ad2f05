using System.IO.Compression;
using System.Text.Json;
using Xunit;

namespace Meltwise.Cli.Tests;

/// <summary>The command contract of <c>report</c>, <c>pack</c>, <c>unpack</c>, <c>plan</c>, <c>study</c> on the demonstration bench, which is invented.</summary>
public sealed class PublishingCommandsTests : IDisposable
{
    private readonly MeltwiseProcess _meltwise = new();
    private string Bench => Path.Combine(_meltwise.Folder, "demonstration.meltwise");

    [Fact]
    public void A_report_is_written_and_the_anonymous_one_names_nobody()
    {
        _meltwise.Run("demo").Expect(0);
        JsonElement full = _meltwise.Run("report", "--enquiry", "Q-07", "--bench", Bench, "--json").Expect(0).Json();
        string[] files = [.. full.GetProperty("files").EnumerateArray().Select(f => f.GetString()!)];
        Assert.All(files, f => Assert.True(new FileInfo(f).Length > 500, f));
        Assert.Contains("Downriver", Text(files.Single(f => f.EndsWith(".html", StringComparison.Ordinal))), StringComparison.Ordinal);

        JsonElement hidden = _meltwise.Run("report", "--enquiry", "Q-07", "--bench", Bench, "--anonymous", "--json").Expect(0).Json();
        string page = Text(hidden.GetProperty("files").EnumerateArray().Select(f => f.GetString()!).Single(f => f.EndsWith(".html", StringComparison.Ordinal)));
        foreach (string name in new[] { "Downriver", "Upriver", "D07", "U16", "Q-07" }) Assert.DoesNotContain(name, page, StringComparison.Ordinal);
    }

    [Fact]
    public void Pictures_travel_with_backup_and_pack_and_an_altered_one_is_found()
    {
        _meltwise.Run("demo").Expect(0);
        string copy = Path.Combine(_meltwise.Folder, "copy.meltwise"), pack = Path.Combine(_meltwise.Folder, "q07-with-pictures.zip");
        _meltwise.Run("backup", copy, "--bench", Bench).Expect(0);
        _meltwise.Run("pack", "--enquiry", "Q-07", "--bench", copy, "--out", pack).Expect(0);
        using (ZipArchive archive = ZipFile.OpenRead(pack)) Assert.Equal(18, archive.Entries.Count(e => e.FullName.StartsWith("pictures/", StringComparison.Ordinal)));
        _meltwise.Run("unpack", pack, "--into", copy).Expect(0);
        Assert.True(_meltwise.Run("check", "--bench", copy, "--json").Expect(0).Json().GetProperty("intact").GetBoolean());
        string original = Directory.EnumerateFiles(copy + ".pictures", "*", SearchOption.AllDirectories).First();
        File.AppendAllText(original, "x");
        Assert.Contains("was altered", _meltwise.Run("check", "--bench", copy).Expect(1).Output, StringComparison.Ordinal);
        Assert.Contains("was altered", _meltwise.Run("pack", "--enquiry", "Q-07", "--bench", copy, "--out", pack + "2.zip").Expect(1).Messages, StringComparison.Ordinal);
    }

    [Fact]
    public void A_study_is_kept_with_the_enquiry_stands_in_its_report_and_is_taken_out_again()
    {
        _meltwise.Run("demo").Expect(0);
        string Report(params string[] more) => Text(_meltwise.Run([.. new[] { "report", "--enquiry", "Q-09", "--bench", Bench, "--out", Path.Combine(_meltwise.Folder, "r"), "--json" }, .. more]).Expect(0).Json()
            .GetProperty("files").EnumerateArray().Select(f => f.GetString()!).Single(f => f.EndsWith(".html", StringComparison.Ordinal)));
        Assert.DoesNotContain("Treatment study", Report(), StringComparison.Ordinal);
        Assert.Contains("Treatment study", Report("--study", "by=treatment; control=punch; where=orientation=L; where=route=powder"), StringComparison.Ordinal);
        Assert.Contains("Each treatment against punch", Report(), StringComparison.Ordinal);
        Assert.DoesNotContain("Treatment study", Report("--study", "none"), StringComparison.Ordinal);
        _meltwise.Run("report", "--enquiry", "Q-09", "--bench", Bench, "--study", "by=colour").Expect(1);
        _meltwise.Run("report", "--enquiry", "Q-09", "--bench", Bench, "--study", "colour=blue").Expect(2);
    }

    [Fact]
    public void A_pack_comes_back_whole_and_a_changed_one_is_refused()
    {
        _meltwise.Run("demo").Expect(0);
        string pack = Path.Combine(_meltwise.Folder, "q07.zip");
        _meltwise.Run("pack", "--enquiry", "Q-07", "--bench", Bench, "--out", pack).Expect(0);
        Assert.Equal(24, _meltwise.Run("unpack", pack, "--json").Expect(0).Json().GetProperty("coupons").GetInt32());
        _meltwise.Run("unpack", pack, "--into", Path.Combine(_meltwise.Folder, "own.meltwise")).Expect(1);
        Assert.False(File.Exists(Path.Combine(_meltwise.Folder, "own.meltwise")), "An invented pack must not even make a bench.");

        using (ZipArchive archive = ZipFile.Open(pack, ZipArchiveMode.Update))
        {
            ZipArchiveEntry table = archive.Entries.First(e => e.FullName.EndsWith(".csv", StringComparison.Ordinal));
            using StreamWriter more = new(table.Open());
            more.BaseStream.Seek(0, SeekOrigin.End);
            more.Write("U16,99,1\r\n");
        }
        _meltwise.Run("unpack", pack).Expect(1);
    }

    [Fact]
    public void A_plan_is_the_same_for_a_seed_and_its_odds_are_odds()
    {
        string[] arguments = ["plan", "--margin", "0.80..1.25", "--cv", "0.15", "--coupons", "4..6", "--replicates", "2000", "--seed", "3", "--json"];
        Ending first = _meltwise.Run(arguments).Expect(0);
        Assert.Equal(first.Output, _meltwise.Run(arguments).Expect(0).Output);
        Assert.All(first.Json().GetProperty("table").EnumerateArray(), row => Assert.Equal(1, row.GetProperty("odds").EnumerateObject().Sum(o => o.Value.GetDouble()), 1e-9));
    }

    [Fact]
    public void A_plan_with_several_properties_gives_the_joint_odds_and_those_of_each()
    {
        string[] arguments = ["plan", "--cv", "0.12", "--coupons", "8", "--replicates", "2000", "--primary", "bend strength=15%", "--primary-cv", "bend strength=0.07", "--correlation", "0.4", "--json"];
        JsonElement row = _meltwise.Run(arguments).Expect(0).Json().GetProperty("table")[0];
        JsonElement[] each = [.. row.GetProperty("properties").EnumerateArray()];
        Assert.Equal(["impact energy", "bend strength"], each.Select(p => p.GetProperty("property").GetString()));
        Assert.All(each, p => Assert.True(p.GetProperty("answers").GetProperty("yes").GetDouble() >= row.GetProperty("answers").GetProperty("yes").GetDouble()));
        Assert.Contains("--primary-cv", _meltwise.Run("plan", "--primary", "bend strength=15%").Expect(2).Messages, StringComparison.Ordinal);
        Assert.Contains("named twice", _meltwise.Run("plan", "--primary", "impact energy=15%").Expect(2).Messages, StringComparison.Ordinal);
    }

    [Fact]
    public void An_allocation_that_would_confound_loads_is_refused()
    {
        _meltwise.Run("plan", "--allocate", "--loads", "3", "--capacity", "8", "--coupons", "6").Expect(0);
        Assert.True(File.Exists(Path.Combine(_meltwise.Folder, "allocation", "labels.pdf")));
        Ending refused = _meltwise.Run("plan", "--allocate", "--loads", "3", "--capacity", "8", "--coupons", "2").Expect(3);
        Assert.Contains("confounded-loads", refused.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public void A_study_of_the_bench_compares_treatments_with_a_control()
    {
        _meltwise.Run("demo").Expect(0);
        JsonElement study = _meltwise.Run("study", "--bench", Bench, "--by", "treatment", "--control", "punch", "--where", "orientation=L", "--where", "route=powder", "--json").Expect(0).Json();
        Assert.Equal(4, study.GetProperty("groups").GetArrayLength());
        Assert.Equal(3, study.GetProperty("comparisons").GetArrayLength());
        _meltwise.Run("study", "--bench", Bench, "--by", "colour").Expect(1);
    }

    public void Dispose() => _meltwise.Dispose();

    /// <summary>The page without its fonts, whose base64 could spell anything.</summary>
    private static string Text(string file) => System.Text.RegularExpressions.Regex.Replace(File.ReadAllText(file), "base64,[A-Za-z0-9+/=]*", "", System.Text.RegularExpressions.RegexOptions.None, TimeSpan.FromSeconds(10));
}
