using System.Text.Json;
using Xunit;

namespace Meltwise.Cli.Tests;

/// <summary>The command contract of <c>demo</c>, <c>intake</c>, <c>check</c> and <c>backup</c>.</summary>
public sealed class BenchCommandsTests : IDisposable
{
    private const string Table = "heat,source,coupon,hardness [HRC],impact energy [J]\nK17,A,1,62.1,40.5\nK17,A,2,62.0,41.0\nM03,B,1,62.3,39.9\n";
    private readonly MeltwiseProcess _meltwise = new();

    [Fact]
    public void The_demonstration_is_made_once_and_says_that_it_is_invented()
    {
        Ending first = _meltwise.Run("demo").Expect(0);
        Assert.Contains("invented", first.Output, StringComparison.Ordinal);
        DateTime made = File.GetLastWriteTimeUtc(Path.Combine(_meltwise.Folder, "demonstration.meltwise"));
        _meltwise.Run("demo", "--json").Expect(0).Json();
        Assert.Equal(made, File.GetLastWriteTimeUtc(Path.Combine(_meltwise.Folder, "demonstration.meltwise")));
    }

    [Fact]
    public void A_table_is_stored_once()
    {
        string file = _meltwise.File("coupons.csv", Table), bench = Path.Combine(_meltwise.Folder, "own.meltwise");
        Assert.Contains("would be stored", _meltwise.Run("intake", file, "--dry-run").Expect(0).Output, StringComparison.Ordinal);
        JsonElement stored = _meltwise.Run("intake", file, "--bench", bench, "--json").Expect(0).Json().GetProperty("files")[0];
        Assert.True(stored.GetProperty("stored").GetBoolean());
        JsonElement again = _meltwise.Run("intake", file, "--bench", bench, "--json").Expect(0).Json().GetProperty("files")[0];
        Assert.True(again.GetProperty("alreadyStored").GetBoolean());
        JsonElement check = _meltwise.Run("check", "--bench", bench, "--json").Expect(0).Json();
        Assert.True(check.GetProperty("intact").GetBoolean());
    }

    [Fact]
    public void A_file_with_faults_stores_nothing_unless_the_good_rows_are_wanted()
    {
        string file = _meltwise.File("coupons.csv", Table + "M03,B,2,62.1,-4\n"), bench = Path.Combine(_meltwise.Folder, "own.meltwise");
        JsonElement refused = _meltwise.Run("intake", file, "--bench", bench, "--json").Expect(1).Json();
        JsonElement fault = Assert.Single(refused.GetProperty("faults").EnumerateArray());
        Assert.Equal(5, fault.GetProperty("row").GetInt32());
        Assert.False(refused.GetProperty("files")[0].GetProperty("stored").GetBoolean());
        Assert.True(_meltwise.Run("intake", file, "--bench", bench, "--keep-good-rows", "--json").Json().GetProperty("files")[0].GetProperty("stored").GetBoolean());
    }

    [Fact]
    public void A_table_of_hot_histories_is_looked_at_refused_with_its_faults_and_stored()
    {
        const string good = "heat,step,from [°C],to [°C],time [h]\nK17,consolidation,1150,,4\nK17,reheat,1140,950,3\n";
        string file = _meltwise.File("hot.csv", good), faulty = _meltwise.File("faulty.csv", good + "M03,forging,2100,,1\n"), bench = Path.Combine(_meltwise.Folder, "own.meltwise");
        Assert.Contains("2 rows of hot histories of 2 would be stored. Nothing was.", _meltwise.Run("intake", file, "--dry-run").Expect(0).Output.ReplaceLineEndings(" "), StringComparison.Ordinal);
        JsonElement refused = _meltwise.Run("intake", faulty, "--bench", bench, "--json").Expect(1).Json(), fault = Assert.Single(refused.GetProperty("faults").EnumerateArray());
        Assert.Equal(("faulty.csv", 4, "from [°C]"), (fault.GetProperty("file").GetString(), fault.GetProperty("row").GetInt32(), fault.GetProperty("column").GetString()));
        JsonElement stored = _meltwise.Run("intake", file, "--bench", bench, "--json").Expect(0).Json().GetProperty("files")[0];
        Assert.Equal((1, true), (stored.GetProperty("hotHistories").GetInt32(), stored.GetProperty("stored").GetBoolean()));
    }

    [Fact]
    public void A_furnace_trace_is_looked_at_and_kept_with_its_load()
    {
        string bench = Path.Combine(_meltwise.Folder, "own.meltwise"), trace = _meltwise.File("run7.csv", "time [min],load [°F]\n0,1706\n20,2066\n40,2066\n50,1166\n");
        _meltwise.Run("intake", _meltwise.File("coupons.csv", "heat,coupon,load,impact energy [J]\nK17,1,26-07/a,41.2\n"), "--bench", bench).Expect(0);
        string looked = _meltwise.Run("trace", trace, "--load", "26-07/a", "--set", "1130", "--step", "austenitize", "--dry-run", "--bench", bench).Expect(0).Output.ReplaceLineEndings(" ");
        Assert.Contains("austenitize at 1130 ± 10 °C: 21.2 min at temperature", looked, StringComparison.Ordinal);
        Assert.Contains("Nothing was stored.", looked, StringComparison.Ordinal);
        JsonElement stored = _meltwise.Run("trace", trace, "--load", "26-07/a", "--set", "1130", "--bench", bench, "--json").Expect(0).Json();
        Assert.Equal(("T-1", true, 4), (stored.GetProperty("trace").GetString(), stored.GetProperty("stored").GetBoolean(), stored.GetProperty("readings").GetInt32()));
        Assert.Equal(21.2, stored.GetProperty("soakMinutes").GetDouble(), 0.001);
        Assert.Contains("is trace T-1", _meltwise.Run("trace", trace, "--load", "26-07/a", "--set", "1130", "--bench", bench).Expect(1).Messages, StringComparison.Ordinal);
        Assert.True(_meltwise.Run("check", "--bench", bench, "--json").Expect(0).Json().GetProperty("intact").GetBoolean());
    }

    [Fact]
    public void A_backup_is_a_bench_and_never_overwrites()
    {
        _meltwise.Run("intake", _meltwise.File("coupons.csv", Table)).Expect(0);
        string copy = Path.Combine(_meltwise.Folder, "copy.meltwise");
        _meltwise.Run("backup", copy).Expect(0);
        _meltwise.Run("check", "--bench", copy).Expect(0);
        _meltwise.Run("backup", copy).Expect(1);
    }

    [Theory]
    [InlineData("check", "--bench", "missing.meltwise")]
    [InlineData("compare", "--enquiry", "E-1")]
    [InlineData("check")]
    public void What_is_not_there_is_named(params string[] arguments) => Assert.NotEmpty(_meltwise.Run(arguments).Expect(1).Messages);

    [Fact]
    public void A_file_that_is_no_bench_is_refused_and_left_alone()
    {
        string file = _meltwise.File("notes.meltwise", "these are my notes");
        _meltwise.Run("check", "--bench", file).Expect(1);
        Assert.Equal("these are my notes", File.ReadAllText(file));
    }

    [Theory]
    [InlineData("compere")]
    [InlineData("check", "--frobnicate")]
    [InlineData("start", "--port", "99999")]
    public void A_wrong_command_line_ends_with_status_2(params string[] arguments) => Assert.Empty(_meltwise.Run(arguments).Expect(2).Output);

    public void Dispose() => _meltwise.Dispose();
}
