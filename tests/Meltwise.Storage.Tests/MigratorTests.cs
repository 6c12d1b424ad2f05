using Meltwise.Casework.Recording;
using Meltwise.Storage.Checking;
using Meltwise.Storage.Migrations;
using Meltwise.Storage.Tests.Engines;
using Microsoft.Data.Sqlite;
using Xunit;

namespace Meltwise.Storage.Tests;

public sealed class MigratorTests : IDisposable
{
    private static readonly Migration s_next = new(Migrator.Newest + 1, "CREATE TABLE shelf (name TEXT NOT NULL PRIMARY KEY); ALTER TABLE heat_version ADD COLUMN shelf TEXT REFERENCES shelf (name);");

    private readonly BenchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    private string Made()
    {
        string path = _folder.File("own.meltwise");
        using Bench bench = BenchFile.Create(path, isDemonstration: false);
        bench.Commit("A", null, [.. Invented.Heat(), Invented.Coupon("K17", "1")]);
        return path;
    }

    [Fact]
    public void A_migration_keeps_all_records_and_leaves_a_copy_of_the_file_before_it()
    {
        string path = Made();
        using (Bench bench = BenchFile.Open(path, BenchFileLimits.Usual, [.. Migrator.Shipped, s_next]))
        {
            Assert.Equal(s_next.Number, bench.Card.SchemaVersion);
            Assert.Single(bench.Heats());
            Assert.True(bench.Check().IsSound);
            bench.Commit("A", null, Invented.Heat("M03"));
        }
        using Bench before = BenchFile.Open(_folder.File($"own.schema-{Migrator.Newest}.meltwise"));
        Assert.Equal(Migrator.Newest, before.Card.SchemaVersion);
        Assert.Equal(["K17"], before.Heats().Select(h => h.Name));
        // The migrated file is now from a newer version than the shipped one.
        Assert.Throws<BenchException>(() => BenchFile.Open(path));
    }

    [Fact]
    public void A_migration_that_fails_leaves_the_bench_as_it_was()
    {
        string path = Made();
        Assert.Throws<BenchException>(() => BenchFile.Open(path, BenchFileLimits.Usual, [.. Migrator.Shipped, s_next with { Sql = s_next.Sql + " INSERT INTO nowhere VALUES (1);" }]));
        using Bench bench = BenchFile.Open(path);
        Assert.Equal(Migrator.Newest, bench.Card.SchemaVersion);
        Assert.True(bench.Check().IsSound);
    }

    [Fact]
    public void Shipped_migrations_are_numbered_without_gap() => Assert.Equal(Enumerable.Range(1, Migrator.Newest), Migrator.Shipped.Select(m => m.Number));

    public static TheoryData<int> EarlierSchemas => [.. Enumerable.Range(1, Migrator.Newest - 1)];

    // The kept file has schema 1; the schemas between were never released, and a bench that stopped at one of them still opens.
    [Theory]
    [MemberData(nameof(EarlierSchemas))]
    public void A_bench_of_every_earlier_schema_opens_and_keeps_its_data(int schema)
    {
        string path = _folder.File("earlier.meltwise");
        File.Copy(Path.Combine(AppContext.BaseDirectory, "Kept", "bench-0.1.meltwise"), path);
        using (SqliteConnection connection = new($"Data Source={path};Pooling=False"))
        {
            connection.Open();
            foreach (Migration migration in Migrator.Shipped.Where(m => m.Number > 1 && m.Number <= schema))
            {
                using SqliteCommand change = new($"{migration.Sql}; PRAGMA user_version = {migration.Number};", connection);
                change.ExecuteNonQuery();
            }
        }
        using Bench bench = BenchFile.Open(path);
        Assert.Equal(Migrator.Newest, bench.Card.SchemaVersion);
        Assert.Empty(bench.Check().Faults);
        Assert.Equal(["K17", "M03"], bench.Heats().Select(h => h.Name));
        Assert.Equal(["42.10"], bench.Readings(new("K17", "1")).Where(r => r.Property == "impact energy").Select(r => r.Typed.Text));
        Assert.All(bench.Verifications(), v => Assert.Null(v.Readings));
        Assert.True(File.Exists(_folder.File($"earlier.schema-{schema}.meltwise")));
    }

    // One file of every released version; see Kept/README.md.
    [Theory]
    [InlineData("bench-0.1.meltwise")]
    public void A_bench_of_every_released_version_opens_and_is_whole(string name)
    {
        string path = _folder.File(name);
        File.Copy(Path.Combine(AppContext.BaseDirectory, "Kept", name), path);
        using Bench bench = BenchFile.Open(path);
        BenchFindings findings = bench.Check();
        Assert.Empty(findings.Faults);
        Assert.Equal(["K17", "M03"], bench.Heats().Select(h => h.Name));
        Assert.Equal(["42.10"], bench.Readings(new("K17", "1")).Where(r => r.Property == "impact energy").Select(r => r.Typed.Text));
        Assert.Equal("digits swapped", bench.Trail("reading", "K17/1/impact energy/1")[0].Why);
        Assert.Equal("<5", bench.Chemistry("K17").Single(c => c.Element == "O").Typed.Text);
        Assert.Equal(0.8, ((Domain.Margin.Ratio)bench.FindEnquiry("E-1")!.Rule!.Margin).Low);
        Assert.Equal(6, bench.Treatments().Single().Steps.Count);
        Assert.Empty(bench.Pictures());
        Assert.Null(bench.FindHotHistory("K17"));
        Assert.Equal((2, 1), (bench.FindEnquiry("E-1")!.StagesUtc.Count, bench.FindEnquiry("E-1")!.Exclusions.Count));
        Assert.Empty(bench.FindEnquiry("E-1")!.Work);
        // What came with later schemas is unknown of old records, and can be filled in without a reason.
        Assert.All(bench.Coupons(), c => Assert.Null(c.Position));
        bench.Commit("A", null, [new BenchChange.PutCoupon(bench.Coupons("K17")[0] with { Position = "mid-radius" }), new BenchChange.PutCustody(new("K17", Retained: "remnant"))]);
        bench.Commit("A", null, [new BenchChange.PutInstrument(new("T1", "hardness tester", "hardness", "HRC")), new BenchChange.PutVerification(new("T1", new(2026, 7, 1), new(2026, 7, 1), true, "block 62.4", Readings: [62.3, 62.5]))]);
        Assert.Empty(bench.FurnaceTraces());
        Assert.Empty(bench.Check().Faults);
    }
}
