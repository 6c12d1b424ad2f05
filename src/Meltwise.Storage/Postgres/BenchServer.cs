using Meltwise.Casework.Recording;
using Meltwise.Storage.Migrations;
using Meltwise.Storage.Postgres;
using Npgsql;

namespace Meltwise.Storage;

/// <summary>The bench on a PostgreSQL server.</summary>
public static class BenchServer
{
    /// <summary>Opens the bench of a database, or makes it there when the database is empty.</summary>
    /// <param name="connectionString">As Npgsql takes it: host, port, database, user name.</param>
    /// <param name="isDemonstration">What a new bench is; an existing one keeps what it is.</param>
    /// <exception cref="BenchException">The settings are incomplete, the server cannot be reached, or the bench is from a newer version.</exception>
    public static Bench Open(string connectionString, bool isDemonstration = false)
    {
        NpgsqlConnectionStringBuilder settings = Read(connectionString);
        NpgsqlConnection connection = new(settings.ToString());
        PostgresEngine engine = new(connection);
        try
        {
            connection.Open();
            connection.Run("SET lock_timeout = '5s'");
            Migrator.BringUpToDate(engine, Migrator.Shipped);
            if (connection.Number("SELECT COUNT(*) FROM bench") == 0) Bench.Found(engine, isDemonstration);
            return new Bench(engine);
        }
        catch (NpgsqlException e)
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

    private static NpgsqlConnectionStringBuilder Read(string connectionString)
    {
        NpgsqlConnectionStringBuilder settings;
        try
        {
            settings = new(connectionString) { Pooling = false };
        }
        catch (ArgumentException e)
        {
            throw new BenchException("The connection string of the bench cannot be read. Expected: Host=...;Port=...;Database=...;Username=...", e);
        }
        string[] missing = [.. new[] { ("Host", settings.Host), ("Database", settings.Database), ("Username", settings.Username) }
            .Where(p => string.IsNullOrWhiteSpace(p.Item2)).Select(p => p.Item1)];
        return missing.Length == 0 ? settings : throw new BenchException($"The connection string of the bench lacks {string.Join(", ", missing)}. Nothing was opened.");
    }
}
