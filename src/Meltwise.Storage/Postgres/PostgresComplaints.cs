using System.Data.Common;
using Meltwise.Casework.Recording;
using Npgsql;

namespace Meltwise.Storage.Postgres;

/// <summary>PostgreSQL's conditions in words for a reader: what happened, what was kept, what to do.</summary>
internal static class PostgresComplaints
{
    public static BenchException Explain(DbException e, string place) => new((e as PostgresException)?.SqlState switch
    {
        PostgresErrorCodes.LockNotAvailable or PostgresErrorCodes.QueryCanceled or PostgresErrorCodes.DeadlockDetected =>
            $"The bench {place} is locked: another program is writing to it. Nothing was stored. Wait for the other to finish and try again.",
        PostgresErrorCodes.DiskFull => $"The disk of the server is full: the bench {place} cannot grow. Nothing of the last change was stored, what was recorded before is kept.",
        PostgresErrorCodes.InsufficientPrivilege or PostgresErrorCodes.ReadOnlySqlTransaction =>
            $"The bench {place} cannot be written: you have no right to. Nothing was stored. Ask its keeper.",
        PostgresErrorCodes.InvalidPassword or PostgresErrorCodes.InvalidAuthorizationSpecification => $"The server does not let you into the bench {place}. Check name and password.",
        PostgresErrorCodes.InvalidCatalogName => $"There is no database {place}. Ask the server's keeper to make one.",
        { } state => $"The bench {place} refused the change (PostgreSQL condition {state}). Nothing of it was stored.",
        null => $"The server of the bench {place} cannot be reached. What was recorded before is kept; the last change was not stored unless it was confirmed.",
    }, e);
}
