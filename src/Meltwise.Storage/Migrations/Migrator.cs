using System.Data.Common;
using System.Globalization;
using System.Reflection;
using Meltwise.Casework.Recording;
using Meltwise.Storage.Records;

namespace Meltwise.Storage.Migrations;

/// <summary>A numbered change of the schema.</summary>
internal sealed record Migration(int Number, string Sql);

/// <summary>Brings a bench to the newest schema: a copy first, then each migration in a transaction of its own.</summary>
internal static class Migrator
{
    /// <summary>The shipped migrations, in order: the numbered files of this folder.</summary>
    public static IReadOnlyList<Migration> Shipped { get; } = Load();

    /// <summary>Number of the newest.</summary>
    public static int Newest => Shipped[^1].Number;

    /// <summary>Applies what is missing.</summary>
    /// <exception cref="BenchException">The bench was made by a newer version.</exception>
    public static void BringUpToDate(Engine engine, IReadOnlyList<Migration> migrations)
    {
        int version = engine.ReadSchemaVersion();
        if (version > migrations[^1].Number)
            throw new BenchException($"{engine.Place} was made by a newer version of Meltwise (schema {version}; this one knows up to {migrations[^1].Number}). Nothing was changed. Use that newer version, or a copy made before it.");
        if (version == migrations[^1].Number) return;
        if (version > 0) engine.CopyBeforeMigration(version);
        foreach (Migration migration in migrations.Where(m => m.Number > version)) Apply(engine, migration, guard: migration == migrations[^1]);
    }

    // The guards are for all tables, which are all there after the last migration only.
    private static void Apply(Engine engine, Migration migration, bool guard)
    {
        using DbTransaction transaction = engine.BeginWriting();
        engine.Connection.Run(migration.Sql, transaction);
        if (guard)
            foreach (string statement in Tables.All.SelectMany(engine.Guards)) engine.Connection.Run(statement, transaction);
        engine.WriteSchemaVersion(transaction, migration.Number);
        transaction.Commit();
    }

    private static IReadOnlyList<Migration> Load()
    {
        System.Reflection.Assembly here = typeof(Migrator).Assembly;
        const string folder = "Meltwise.Storage.Migrations.";
        return [.. here.GetManifestResourceNames().Where(n => n.StartsWith(folder, StringComparison.Ordinal)).Order(StringComparer.Ordinal).Select(Read)];

        Migration Read(string name)
        {
            using StreamReader reader = new(here.GetManifestResourceStream(name)!);
            return new(int.Parse(name[folder.Length..][..4], CultureInfo.InvariantCulture), reader.ReadToEnd());
        }
    }
}
