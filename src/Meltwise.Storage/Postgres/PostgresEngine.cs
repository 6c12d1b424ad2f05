using System.Data.Common;
using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Storage.Originals;
using Meltwise.Storage.Records;
using Meltwise.Storage.Writing;
using Npgsql;

namespace Meltwise.Storage.Postgres;

/// <summary>A bench on a PostgreSQL server, for a lab that shares one. Writers take turns on the trail.</summary>
internal sealed class PostgresEngine(NpgsqlConnection connection) : Engine
{
    private readonly NpgsqlConnection _connection = connection;

    public override DbConnection Connection => _connection;

    public override string Place { get; } = $"{connection.Host}:{connection.Port.ToString(CultureInfo.InvariantCulture)}/{connection.Database}";

    public override PictureOriginals Originals { get; } = new ServerOriginals(connection, BenchFile.OriginalsFromServers);

    public override int ReadSchemaVersion()
    {
        _connection.Run("CREATE TABLE IF NOT EXISTS bench_schema (number INTEGER PRIMARY KEY)");
        return (int)_connection.Number("SELECT COALESCE(MAX(number), 0) FROM bench_schema");
    }

    public override void WriteSchemaVersion(DbTransaction transaction, int number) =>
        _connection.Run(string.Create(CultureInfo.InvariantCulture, $"INSERT INTO bench_schema (number) VALUES ({number})"), transaction);

    // The server's keeper backs it up with the server's own tools; a client cannot.
    public override string? CopyBeforeMigration(int from) => null;

    public override DbTransaction BeginWriting()
    {
        DbTransaction transaction = _connection.BeginTransaction();
        if (_connection.Number("SELECT COUNT(*) FROM pg_tables WHERE schemaname = current_schema() AND tablename = 'trail'") == 1)
            _connection.Run("LOCK TABLE trail IN EXCLUSIVE MODE", transaction);
        return transaction;
    }

    public override WriteStatement Prepare(DbTransaction transaction, string sql, Column first, IReadOnlyList<Column> others) =>
        new CommandStatement(_connection, transaction, sql, first, others);

    public override IEnumerable<string> Guards(RecordTable table)
    {
        yield return """
            CREATE OR REPLACE FUNCTION keep_version() RETURNS trigger LANGUAGE plpgsql AS $$
            BEGIN
              IF TG_OP = 'DELETE' OR to_jsonb(OLD) ->> 'replaced_by' IS NOT NULL OR to_jsonb(NEW) - 'replaced_by' <> to_jsonb(OLD) - 'replaced_by' THEN
                RAISE EXCEPTION 'versions are kept';
              END IF;
              RETURN NEW;
            END $$
            """;
        yield return $"CREATE OR REPLACE TRIGGER keep_version BEFORE UPDATE OR DELETE ON {table.Table} FOR EACH ROW EXECUTE FUNCTION keep_version()";
    }

    public override Column? MissingName(DbException exception, RecordTable table, object?[] cells, DbTransaction transaction)
    {
        if (exception is not PostgresException { SqlState: PostgresErrorCodes.ForeignKeyViolation, ConstraintName: { } constraint }) return null;
        return table.Columns.FirstOrDefault(c => c.RefersTo is not null && constraint.EndsWith($"_{c.Name}_fkey", StringComparison.Ordinal)) ?? table.Columns[table.CouponAt];
    }

    public override BenchException Explain(DbException exception) => PostgresComplaints.Explain(exception, Place);

    public override IReadOnlyList<string> CheckFile() => [];

    public override void BackUp(string target) =>
        throw new BenchException($"The bench {Place} is on a PostgreSQL server. Its keeper backs it up with the server's own tools (pg_dump); Meltwise copies only bench files.");
}
