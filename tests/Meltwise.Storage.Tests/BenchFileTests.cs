using Meltwise.Casework.Recording;
using Meltwise.Storage.Tests.Engines;
using Microsoft.Data.Sqlite;
using Xunit;

namespace Meltwise.Storage.Tests;

public sealed class BenchFileTests : BenchContract
{
    private readonly BenchFolder _folder = new();

    protected override Bench NewBench() => BenchFile.Create(_folder.File("own.meltwise"), isDemonstration: false);

    public override void Dispose()
    {
        base.Dispose();
        _folder.Dispose();
    }

    [Fact]
    public void A_bench_survives_closing_and_stays_what_it_is()
    {
        using (Bench bench = BenchFile.Create(_folder.File("demo.meltwise"), isDemonstration: true)) bench.Commit("A", null, Invented.Heat());
        using Bench again = BenchFile.Open(_folder.File("demo.meltwise"));
        Assert.True(again.Card.IsDemonstration);
        Assert.Single(again.Heats());
        Assert.DoesNotContain(Directory.EnumerateFiles(_folder.Root), f => f.EndsWith(".new", StringComparison.Ordinal));
    }

    [Fact]
    public void An_existing_file_is_never_made_anew()
    {
        Refused(() => BenchFile.Create(Bench.Card.Place, false), "already a file");
    }

    [Theory]
    [InlineData("", "it is empty")]
    [InlineData("heat,coupon\nK17,1\n", "not a database")]
    public void A_file_of_something_else_is_refused(string content, string why)
    {
        File.WriteAllText(_folder.File("x.meltwise"), content);
        Refused(() => BenchFile.Open(_folder.File("x.meltwise")), why);
        Assert.Equal(content, File.ReadAllText(_folder.File("x.meltwise")));
    }

    [Fact]
    public void A_database_of_another_program_is_refused()
    {
        Sql(_folder.File("other.db"), "CREATE TABLE t (a)");
        Refused(() => BenchFile.Open(_folder.File("other.db")), "another program");
    }

    [Fact]
    public void A_missing_file_and_a_folder_are_refused()
    {
        Refused(() => BenchFile.Open(_folder.File("none.meltwise")), "no bench file");
        Refused(() => BenchFile.Open(_folder.Root), "is a folder");
    }

    [Fact]
    public void A_bench_from_a_newer_version_is_refused_untouched()
    {
        string path = Closed();
        Sql(path, "PRAGMA user_version = 999");
        Refused(() => BenchFile.Open(path), "newer version");
    }

    [Fact]
    public void A_folder_that_cannot_be_written_is_named() => Refused(() => BenchFile.Create("/proc/meltwise/own.meltwise", false), "read-only");

    [Fact]
    public void A_damaged_file_is_refused()
    {
        string path = Closed();
        using (FileStream file = File.OpenWrite(path))
        {
            file.Position = 4096 * 3;
            file.Write(Enumerable.Repeat((byte)0x5A, 4096 * 6).ToArray());
        }
        Refused(() => BenchFile.Open(path), "damaged");
    }

    [Fact]
    public void A_full_disk_stores_nothing_of_the_change_and_keeps_the_rest()
    {
        string path = Closed();
        using (Bench bench = BenchFile.Open(path, BenchFileLimits.Usual with { LargestFileBytes = new FileInfo(path).Length + 40_000 }))
        {
            bench.Commit("A", null, Invented.Heat());
            Refused(() => bench.Commit("A", null, Enumerable.Range(0, 5000).Select(i => Invented.Coupon("K17", $"c{i}"))), "disk is full");
        }
        using Bench again = BenchFile.Open(path);
        Assert.Empty(again.Coupons());
        Assert.Single(again.Heats());
        Assert.True(again.Check().IsSound);
    }

    [Fact]
    public void A_bench_locked_by_another_writer_says_so_and_can_still_be_read()
    {
        string path = Closed();
        using SqliteConnection other = new($"Data Source={path};Pooling=false");
        other.Open();
        using SqliteTransaction writing = other.BeginTransaction(deferred: false);
        using Bench bench = BenchFile.Open(path, new(TimeSpan.FromSeconds(1)));
        Assert.Empty(bench.Heats());
        Refused(() => bench.Commit("A", null, Invented.Heat()), "locked");
        writing.Rollback();
        bench.Commit("A", null, Invented.Heat());
        Assert.Single(bench.Heats());
    }

    [Fact]
    public void Versions_cannot_be_deleted_or_rewritten_even_by_hand()
    {
        string path = Closed();
        using (Bench bench = BenchFile.Open(path)) bench.Commit("A", null, Invented.Heat());
        Assert.Throws<SqliteException>(() => Sql(path, "DELETE FROM heat_version"));
        Assert.Throws<SqliteException>(() => Sql(path, "UPDATE heat_version SET route = 'ingot'"));
    }

    [Fact]
    public void The_check_finds_a_record_changed_outside()
    {
        string path = Closed();
        using (Bench bench = BenchFile.Open(path)) bench.Commit("A", null, Invented.Heat());
        Sql(path, "DROP TRIGGER heat_version_no_change; UPDATE heat_version SET route = 'ingot'");
        using Bench changed = BenchFile.Open(path);
        Assert.Contains("does not match its digest", Assert.Single(changed.Check().Faults), StringComparison.Ordinal);
    }

    [Fact]
    public void The_check_finds_a_line_of_the_trail_that_was_taken_out()
    {
        string path = Closed();
        using (Bench bench = BenchFile.Open(path))
        {
            bench.Commit("A", null, Invented.Heat());
            bench.Commit("A", null, [Invented.Coupon("K17", "1")]);
            bench.Commit("A", null, [Invented.Coupon("K17", "2")]);
        }
        Sql(path, "DELETE FROM trail WHERE number = 2");
        using Bench changed = BenchFile.Open(path);
        Assert.Contains(changed.Check().Faults, f => f.Contains("trail is broken", StringComparison.Ordinal));
    }

    [Fact]
    public void The_check_finds_an_orphan()
    {
        string path = Closed();
        using (Bench bench = BenchFile.Open(path)) bench.Commit("A", null, [.. Invented.Heat(), Invented.Coupon("K17", "1")]);
        Sql(path, "PRAGMA foreign_keys = OFF; DELETE FROM coupon");
        using Bench changed = BenchFile.Open(path);
        Assert.Contains(changed.Check().Faults, f => f.Contains("not on the bench", StringComparison.Ordinal));
    }

    [Fact]
    public void A_backup_in_use_is_whole_and_never_overwrites()
    {
        Bench.Commit("A", null, Invented.Heat());
        string copy = _folder.File("copy.meltwise");
        Bench.BackUp(copy);
        Bench.Commit("A", null, [Invented.Coupon("K17", "1")]);
        using Bench opened = BenchFile.Open(copy);
        Assert.Single(opened.Heats());
        Assert.Empty(opened.Coupons());
        Assert.True(opened.Check().IsSound);
        Refused(() => Bench.BackUp(copy), "already a file");
    }

    private static void Refused(Action action, string because) =>
        Assert.Contains(because, Assert.Throws<BenchException>(action).Message, StringComparison.Ordinal);

    private string Closed()
    {
        string path = _folder.File("closed.meltwise");
        BenchFile.Create(path, isDemonstration: false).Dispose();
        return path;
    }

    private static void Sql(string path, string sql)
    {
        using SqliteConnection connection = new($"Data Source={path};Pooling=false");
        connection.Open();
        using SqliteCommand command = new(sql, connection);
        command.ExecuteNonQuery();
    }
}
