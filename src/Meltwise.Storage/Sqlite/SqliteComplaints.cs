using Meltwise.Casework.Recording;
using Microsoft.Data.Sqlite;

namespace Meltwise.Storage.Sqlite;

/// <summary>SQLite's result codes in words for a reader: what happened, what was kept, what to do.</summary>
/// <remarks>Codes: sqlite.org, "Result and Error Codes".</remarks>
internal static class SqliteComplaints
{
    public static BenchException Explain(SqliteException e, string path) => new(e.SqliteErrorCode switch
    {
        5 or 6 => $"The bench file {path} is locked: another program is writing to it. Nothing was stored. Wait for the other to finish, or close it, and try again.",
        8 => $"The bench file {path} cannot be written: the file or its folder is read-only. Nothing was stored. Allow writing there, or copy the bench to a folder you may write to.",
        10 => $"The disk failed while the bench file {path} was read or written. What was recorded before is kept; the last change was not stored. Check the disk and its space, then run the check.",
        11 => $"The bench file {path} is damaged. Nothing was changed. Keep this file, and go on from the last backup.",
        13 => $"The disk is full: the bench file {path} cannot grow. Nothing of the last change was stored, what was recorded before is kept. Make room and try again.",
        14 => $"The bench file {path} cannot be opened: its folder is missing or read-only. Give a folder that exists and that you may write to.",
        26 => $"{path} is not a bench file: it is not a database. Nothing was changed. Give the file that the bench was made as.",
        _ => $"The bench file {path} refused the change (SQLite code {e.SqliteExtendedErrorCode}). Nothing of it was stored.",
    }, e);
}
