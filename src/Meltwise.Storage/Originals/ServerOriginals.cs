using System.Data;
using System.Data.Common;
using System.Security.Cryptography;
using Meltwise.Casework.Recording;
using Npgsql;

namespace Meltwise.Storage.Originals;

/// <summary>Originals in the database, in parts, so that neither the server nor this program holds a large picture whole. Reading one lays it down in a folder of this machine.</summary>
internal sealed class ServerOriginals(NpgsqlConnection connection, string folder) : PictureOriginals
{
    private const int PartBytes = 1 << 20;

    public override string Keep(Stream content)
    {
        Directory.CreateDirectory(folder);
        string unfinished = Path.Combine(folder, $"{Guid.NewGuid():N}.unfinished");
        try
        {
            string sha256 = Write(content, unfinished);
            if (DigestNow(sha256) != sha256) Send(unfinished, sha256);
            return sha256;
        }
        finally
        {
            File.Delete(unfinished);
        }
    }

    public override string? PathOf(string sha256)
    {
        if (!IsDigest(sha256)) return null;
        string path = Path.Combine(folder, sha256);
        if (File.Exists(path)) return path;
        Directory.CreateDirectory(folder);
        string unfinished = Path.Combine(folder, $"{Guid.NewGuid():N}.unfinished");
        bool any = false;
        try
        {
            using (FileStream file = new(unfinished, FileMode.CreateNew))
            {
                foreach (byte[] part in Parts(sha256))
                {
                    file.Write(part);
                    any = true;
                }
            }
            if (!any) return null;
            File.Move(unfinished, path, overwrite: true);
            return path;
        }
        catch (IOException e)
        {
            throw new BenchException($"The picture could not be laid down in {folder}: the disk is full or the folder is read-only.", e);
        }
        finally
        {
            File.Delete(unfinished);
        }
    }

    public override string? DigestNow(string sha256)
    {
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        bool any = false;
        foreach (byte[] part in Parts(sha256))
        {
            hash.AppendData(part);
            any = true;
        }
        return any ? Convert.ToHexStringLower(hash.GetHashAndReset()) : null;
    }

    public override string Place(string sha256) => $"table picture_original of {connection.Host}/{connection.Database}, {sha256}";

    private void Send(string path, string sha256)
    {
        using NpgsqlTransaction transaction = connection.BeginTransaction();
        connection.Run($"DELETE FROM picture_original WHERE sha256 = '{sha256}'", transaction);
        using DbCommand insert = connection.Command("INSERT INTO picture_original (sha256, part, content) VALUES (@sha256, @part, @content) ON CONFLICT DO NOTHING", transaction);
        insert.Add("sha256", DbType.String, sha256);
        DbParameter number = insert.Add("part", DbType.Int32), content = insert.Add("content", DbType.Binary);
        using FileStream file = File.OpenRead(path);
        byte[] buffer = new byte[PartBytes];
        int part = 0;
        int read;
        do
        {
            read = file.ReadAtLeast(buffer, PartBytes, throwOnEndOfStream: false);
            (number.Value, content.Value) = (part++, buffer[..read]);
            insert.ExecuteNonQuery();
        }
        while (read == PartBytes);
        transaction.Commit();
    }

    private IEnumerable<byte[]> Parts(string sha256)
    {
        using DbCommand command = connection.Command("SELECT content FROM picture_original WHERE sha256 = @sha256 ORDER BY part");
        command.Add("sha256", DbType.String, sha256);
        using DbDataReader row = command.ExecuteReader(CommandBehavior.SequentialAccess);
        while (row.Read()) yield return row.GetFieldValue<byte[]>(0);
    }
}
