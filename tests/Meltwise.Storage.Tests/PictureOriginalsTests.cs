using System.Security.Cryptography;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Storage.Tests.Engines;
using Npgsql;
using Xunit;

namespace Meltwise.Storage.Tests;

/// <summary>Originals of pictures beside a bench file: copied by a backup, missing or altered ones found by the check.</summary>
public sealed class PictureOriginalsTests : IDisposable
{
    private readonly BenchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    private Bench WithPicture(out Picture picture)
    {
        Bench bench = BenchFile.Create(_folder.File("own.meltwise"), isDemonstration: false);
        bench.Commit("A", null, Invented.Heat());
        picture = Invented.Picture("P-1", bench.KeepOriginal(new MemoryStream([1, 2, 3])));
        bench.Commit("A", null, [new BenchChange.PutPicture(picture)]);
        return bench;
    }

    [Fact]
    public void An_original_lies_beside_the_bench_file_under_its_digest()
    {
        using Bench bench = WithPicture(out Picture picture);
        string digest = Convert.ToHexStringLower(SHA256.HashData([1, 2, 3]));
        Assert.Equal(digest, picture.Sha256);
        Assert.Equal(_folder.File($"own.meltwise.pictures/{digest[..2]}/{digest[2..]}"), bench.OriginalPath(picture));
        Assert.Single(Directory.EnumerateFiles(_folder.File("own.meltwise.pictures"), "*", SearchOption.AllDirectories));
    }

    [Fact]
    public void A_missing_original_is_named_by_the_check_and_by_whoever_asks_for_it()
    {
        using Bench bench = WithPicture(out Picture picture);
        File.Delete(bench.OriginalPath(picture));
        Assert.Contains("Picture P-1 (field 1.png, heat K17): its original is missing", Assert.Single(bench.Check().Faults), StringComparison.Ordinal);
        Assert.Contains("P-1", Assert.Throws<BenchException>(() => bench.OriginalPath(picture)).Message, StringComparison.Ordinal);
        // The same file brought in again heals it.
        bench.KeepOriginal(new MemoryStream([1, 2, 3]));
        Assert.Empty(bench.Check().Faults);
    }

    [Fact]
    public void An_altered_original_is_found_by_the_check_and_healed_by_the_same_file()
    {
        using Bench bench = WithPicture(out Picture picture);
        File.WriteAllBytes(bench.OriginalPath(picture), [1, 2, 4]);
        Assert.Contains("was altered", Assert.Single(bench.Check().Faults), StringComparison.Ordinal);
        bench.KeepOriginal(new MemoryStream([1, 2, 3]));
        Assert.Empty(bench.Check().Faults);
    }

    [Fact]
    public void A_backup_carries_the_originals()
    {
        using Bench bench = WithPicture(out Picture picture);
        bench.BackUp(_folder.File("copy.meltwise"));
        using Bench copy = BenchFile.Open(_folder.File("copy.meltwise"));
        Assert.Empty(copy.Check().Faults);
        Assert.Equal([1, 2, 3], File.ReadAllBytes(copy.OriginalPath(picture)));
        Assert.StartsWith(_folder.File("copy.meltwise.pictures"), copy.OriginalPath(picture), StringComparison.Ordinal);
    }

    [Fact]
    public void A_bench_that_is_renamed_takes_its_pictures_along()
    {
        WithPicture(out _).Dispose();
        BenchFile.Rename(_folder.File("own.meltwise"), _folder.File("other.meltwise"));
        using Bench bench = BenchFile.Open(_folder.File("other.meltwise"));
        Assert.Empty(bench.Check().Faults);
        Assert.False(Directory.Exists(_folder.File("own.meltwise.pictures")));
    }

    [Fact]
    public void A_digest_that_is_none_never_becomes_a_path()
    {
        using Bench bench = WithPicture(out Picture picture);
        Assert.Throws<BenchException>(() => bench.OriginalPath(picture with { Sha256 = "../own.meltwise" }));
    }

    // The bench of schema 1 gets the tables of pictures, keeps its data, and takes a picture.
    [Fact]
    public void A_bench_of_the_first_schema_takes_pictures()
    {
        string path = _folder.File("first.meltwise");
        File.Copy(Path.Combine(AppContext.BaseDirectory, "Kept", "bench-0.1.meltwise"), path);
        using Bench bench = BenchFile.Open(path);
        int entries = bench.Check().Entries;
        bench.Commit("A", null, [new BenchChange.PutPicture(Invented.Picture("P-1", bench.KeepOriginal(new MemoryStream([9]))))]);
        Assert.Empty(bench.Check().Faults);
        Assert.Equal(entries + 1, bench.Check().Entries);
        Assert.Equal(["K17", "M03"], bench.Heats().Select(h => h.Name));
    }
}

/// <summary>Originals of pictures on a server: in parts, and checked there.</summary>
public sealed class PictureOriginalsOnServerTests(PostgresServer server)
{
    [Fact]
    public void A_file_of_several_parts_comes_back_and_a_change_by_hand_is_found()
    {
        string database = server.NewDatabase();
        byte[] content = new byte[2 * (1 << 20) + 17];
        new Random(4).NextBytes(content);
        using Bench bench = BenchServer.Open(database);
        bench.Commit("A", null, Invented.Heat());
        Picture picture = Invented.Picture("P-1", bench.KeepOriginal(new MemoryStream(content)));
        bench.Commit("A", null, [new BenchChange.PutPicture(picture)]);
        string path = bench.OriginalPath(picture);
        try
        {
            Assert.Equal(content, File.ReadAllBytes(path));
            Assert.Empty(bench.Check().Faults);
            using NpgsqlConnection connection = new(database);
            connection.Open();
            using (NpgsqlCommand alter = new("UPDATE picture_original SET content = '\\x00' WHERE part = 2", connection)) alter.ExecuteNonQuery();
            Assert.Contains("was altered", Assert.Single(bench.Check().Faults), StringComparison.Ordinal);
            using (NpgsqlCommand delete = new("DELETE FROM picture_original", connection)) delete.ExecuteNonQuery();
            Assert.Contains("is missing", Assert.Single(bench.Check().Faults), StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(path);
        }
    }
}
