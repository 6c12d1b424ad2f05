using System.Security.Cryptography;
using Meltwise.Casework.Recording;

namespace Meltwise.Storage.Originals;

/// <summary>Keeps the files of pictures as they came, named by their digest. The same file is kept once.</summary>
internal abstract class PictureOriginals
{
    /// <summary>Keeps a file; after this call it is lasting.</summary>
    /// <returns>SHA-256, hexadecimal, lower case.</returns>
    public abstract string Keep(Stream content);

    /// <summary>A file on this machine that holds the original, or null when it is not there.</summary>
    public abstract string? PathOf(string sha256);

    /// <summary>Digest of what is there under that name now, or null when nothing is.</summary>
    public abstract string? DigestNow(string sha256);

    /// <summary>Where an original is looked for, in words.</summary>
    public abstract string Place(string sha256);

    /// <summary>Writes content to a file and takes its digest on the way.</summary>
    protected static string Write(Stream content, string path)
    {
        try
        {
            using SHA256 hash = SHA256.Create();
            using (FileStream file = new(path, FileMode.CreateNew))
            using (CryptoStream hashing = new(content, hash, CryptoStreamMode.Read, leaveOpen: true))
            {
                hashing.CopyTo(file, 1 << 20);
                file.Flush(flushToDisk: true);
            }
            return Convert.ToHexStringLower(hash.Hash!);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            File.Delete(path);
            throw new BenchException($"The picture could not be written to {Path.GetDirectoryName(path)}: the disk is full or the folder is read-only. Nothing was stored.", e);
        }
    }

    /// <summary>Digest of a file.</summary>
    protected static string Digest(string path)
    {
        using FileStream file = new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        return Convert.ToHexStringLower(SHA256.HashData(file));
    }

    /// <summary>True for 64 hexadecimal digits in lower case; nothing else becomes a path.</summary>
    protected static bool IsDigest(string text) => text.Length == 64 && text.All(char.IsAsciiHexDigitLower);
}
