using Meltwise.Casework.Recording;
using Meltwise.Storage.Migrations;
using Meltwise.Storage.Originals;
using Microsoft.Data.Sqlite;

namespace Meltwise.Storage;

/// <summary>Limits of a bench in a file.</summary>
/// <param name="BusyTimeout">How long a write waits for another program's write to finish; whole seconds, at least 1.</param>
/// <param name="LargestFileBytes">Largest size the file may grow to; null means the disk decides.</param>
public sealed record BenchFileLimits(TimeSpan BusyTimeout, long? LargestFileBytes = null)
{
    /// <summary>Waits 5 s; no limit of size.</summary>
    public static BenchFileLimits Usual { get; } = new(TimeSpan.FromSeconds(5));
}

/// <summary>The bench as one file.</summary>
public static class BenchFile
{
    /// <summary>Ending of a bench file.</summary>
    public const string Extension = ".meltwise";

    /// <summary>A person's own bench: <c>bench.meltwise</c> in the user's data folder, or in the folder that the environment variable MELTWISE_HOME names.</summary>
    public static string OwnPath => Path.Combine(Home, "bench" + Extension);

    /// <summary>The demonstration bench, a file of its own beside it.</summary>
    public static string DemonstrationPath => Path.Combine(Home, "demonstration" + Extension);

    /// <summary>Where originals of pictures from a server are laid down for reading.</summary>
    internal static string OriginalsFromServers => Path.Combine(Home, "originals");

    /// <summary>Gives a closed bench another name, its folder of pictures with it.</summary>
    /// <exception cref="BenchException">The new name is taken, or the folder cannot be written.</exception>
    public static void Rename(string from, string to)
    {
        (string oldFolder, string newFolder) = (FolderOriginals.FolderOf(from), FolderOriginals.FolderOf(to));
        if (File.Exists(to) || Directory.Exists(newFolder)) throw new BenchException($"There is already a bench {to}, or a folder {newFolder}. Nothing was changed.");
        try
        {
            if (Directory.Exists(oldFolder)) Directory.Move(oldFolder, newFolder);
            File.Move(from, to);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new BenchException($"The bench {from} could not be given the name {to}: the folder is read-only.", e);
        }
    }

    /// <summary>Removes what an interrupted making left under that name.</summary>
    public static void RemoveUnfinished(string path)
    {
        File.Delete(path);
        if (Directory.Exists(FolderOriginals.FolderOf(path))) Directory.Delete(FolderOriginals.FolderOf(path), recursive: true);
    }

    /// <summary>Opens a bench, checks it, and brings its schema up to date (after a copy).</summary>
    /// <exception cref="BenchException">No such file, not a bench, damaged, locked, read-only, or made by a newer version.</exception>
    public static Bench Open(string path, BenchFileLimits? limits = null) => Open(path, limits ?? BenchFileLimits.Usual, Migrator.Shipped);

    /// <summary>Makes a new, empty bench. It appears under its name only when it is whole.</summary>
    /// <exception cref="BenchException">The file exists already, or the folder cannot be written.</exception>
    public static Bench Create(string path, bool isDemonstration, BenchFileLimits? limits = null)
    {
        path = Path.GetFullPath(path);
        if (File.Exists(path)) throw new BenchException($"There is already a file {path}. Nothing was changed. Open it, or give another name.");
        string unfinished = $"{path}.{Environment.ProcessId}.new";
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            using (Sqlite.SqliteEngine engine = Sqlite.SqliteEngine.Open(unfinished, SqliteOpenMode.ReadWriteCreate, limits ?? BenchFileLimits.Usual))
            {
                Migrator.BringUpToDate(engine, Migrator.Shipped);
                Bench.Found(engine, isDemonstration);
            }
            File.Move(unfinished, path);
        }
        catch (SqliteException e)
        {
            throw Sqlite.SqliteComplaints.Explain(e, path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new BenchException($"The bench file {path} cannot be made: its folder is missing, read-only or full. Give a folder that you may write to.", e);
        }
        finally
        {
            foreach (string rest in new[] { unfinished, unfinished + "-wal", unfinished + "-shm" })
                if (File.Exists(rest)) File.Delete(rest);
        }
        return Open(path, limits);
    }

    internal static Bench Open(string path, BenchFileLimits limits, IReadOnlyList<Migration> migrations)
    {
        path = Path.GetFullPath(path);
        DemandBenchHeader(path);
        Sqlite.SqliteEngine engine = Sqlite.SqliteEngine.Open(path, SqliteOpenMode.ReadWrite, limits);
        try
        {
            if (engine.Connection.Number("PRAGMA application_id") != Sqlite.SqliteEngine.ApplicationId)
                throw new BenchException($"{path} is not a bench file: it is a database of another program. Nothing was changed. Give the file that the bench was made as.");
            using (System.Data.Common.DbCommand quick = engine.Connection.Command("PRAGMA quick_check(1)"))
                if (quick.ExecuteScalar() is not "ok") throw new BenchException($"The bench file {path} is damaged. Nothing was changed. Keep this file, and go on from the last backup.");
            Migrator.BringUpToDate(engine, migrations);
            return new Bench(engine);
        }
        catch (SqliteException e)
        {
            engine.Dispose();
            throw engine.Explain(e);
        }
        catch (BenchException)
        {
            engine.Dispose();
            throw;
        }
    }

    private static string Home => Environment.GetEnvironmentVariable("MELTWISE_HOME") is { Length: > 0 } home
        ? home
        : Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "meltwise");

    private static void DemandBenchHeader(string path)
    {
        if (Directory.Exists(path)) throw new BenchException($"{path} is a folder, not a bench file. Give the file inside it.");
        if (!File.Exists(path)) throw new BenchException($"There is no bench file {path}. Give the file of an existing bench, or make a new one.");
        Span<byte> header = stackalloc byte[16];
        int read;
        try
        {
            using FileStream file = new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
            read = file.ReadAtLeast(header, 16, throwOnEndOfStream: false);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new BenchException($"The bench file {path} cannot be read: you have no right to, or another program holds it. Nothing was changed.", e);
        }
        if (read == 0) throw new BenchException($"{path} is not a bench file: it is empty. Give the file that the bench was made as.");
        if (!header.SequenceEqual("SQLite format 3\0"u8))
            throw new BenchException($"{path} is not a bench file: it is not a database. Nothing was changed. Give the file that the bench was made as; tables are brought in by intake.");
    }
}
