using Meltwise.Casework.Recording;
using Meltwise.Storage.Migrations;
using Meltwise.Storage.Tests.Engines;
using Npgsql;
using Xunit;

namespace Meltwise.Storage.Tests;

public sealed class BenchServerTests(PostgresServer server) : BenchContract
{
    private readonly string _database = server.NewDatabase();

    protected override Bench NewBench() => BenchServer.Open(_database);

    [Fact]
    public void Two_at_once_take_turns_and_the_trail_stays_whole()
    {
        using Bench one = BenchServer.Open(_database);
        using Bench two = BenchServer.Open(_database);
        one.Commit("A", null, Invented.Heat());
        Parallel.Invoke(Write(one, "a"), Write(two, "b"));
        Assert.Equal(40, one.Coupons().Count);
        Assert.Empty(one.Check().Faults);

        static Action Write(Bench bench, string prefix) => () =>
        {
            for (int i = 0; i < 20; i++) bench.Commit(prefix, null, [Invented.Coupon("K17", $"{prefix}{i}")]);
        };
    }

    [Fact]
    public void Versions_cannot_be_deleted_or_rewritten_even_by_hand()
    {
        Bench.Commit("A", null, Invented.Heat());
        using NpgsqlConnection connection = new(_database);
        connection.Open();
        using NpgsqlCommand delete = new("DELETE FROM heat_version", connection);
        Assert.Throws<PostgresException>(() => delete.ExecuteNonQuery());
        using NpgsqlCommand rewrite = new("UPDATE heat_version SET route = 'ingot'", connection);
        Assert.Throws<PostgresException>(() => rewrite.ExecuteNonQuery());
    }

    [Fact]
    public void A_database_of_the_first_schema_is_brought_up_and_keeps_its_records()
    {
        using (NpgsqlConnection connection = new(_database))
        {
            connection.Open();
            string first = Migrator.Shipped[0].Sql + """
                CREATE TABLE bench_schema (number INTEGER PRIMARY KEY);
                INSERT INTO bench_schema VALUES (1);
                INSERT INTO bench VALUES (1, '2026-01-01T00:00:00.0000000Z', 0);
                INSERT INTO heat VALUES ('K17');
                INSERT INTO heat_version (entry, name, route) VALUES (1, 'K17', 'powder');
                INSERT INTO coupon VALUES ('K17', '1');
                INSERT INTO coupon_version (entry, heat, coupon, orientation, code) VALUES (2, 'K17', '1', 'L', 'C9');
                INSERT INTO enquiry VALUES ('E-1');
                INSERT INTO enquiry_version (entry, name, title, sheet) VALUES (3, 'E-1', 'Same?', '{"name":"E-1","title":"Same?"}');
                """;
            using NpgsqlCommand make = new(first, connection);
            make.ExecuteNonQuery();
        }
        Assert.Equal(Migrator.Newest, Bench.Card.SchemaVersion);
        Assert.Equal(new Domain.Coupon("K17", "1", "L", Code: "C9"), Assert.Single(Bench.Coupons()));
        Assert.Equal(("powder", "Same?"), (Assert.Single(Bench.Heats()).Route, Bench.FindEnquiry("E-1")!.Title));
        Assert.Empty(Bench.FindEnquiry("E-1")!.Work);
        Assert.Empty(Bench.FractureOrigins());
    }

    [Theory]
    [InlineData("Host=127.0.0.1;Port=1;Database=x;Username=lab;Timeout=2", "cannot be reached")]
    [InlineData("Host=127.0.0.1;Database=x", "lacks Username")]
    [InlineData("no such thing", "cannot be read")]
    public void Incomplete_or_wrong_settings_are_refused(string settings, string because) =>
        Assert.Contains(because, Assert.Throws<BenchException>(() => BenchServer.Open(settings).Dispose()).Message, StringComparison.Ordinal);

    [Fact]
    public void A_missing_database_and_a_newer_bench_are_named()
    {
        string none = new NpgsqlConnectionStringBuilder(_database) { Database = "nowhere" }.ToString();
        Assert.Contains("no database", Assert.Throws<BenchException>(() => BenchServer.Open(none).Dispose()).Message, StringComparison.Ordinal);
        Bench.Commit("A", null, Invented.Heat());
        using NpgsqlConnection connection = new(_database);
        connection.Open();
        using NpgsqlCommand command = new("INSERT INTO bench_schema VALUES (999)", connection);
        command.ExecuteNonQuery();
        Assert.Contains("newer version", Assert.Throws<BenchException>(() => BenchServer.Open(_database).Dispose()).Message, StringComparison.Ordinal);
    }
}
