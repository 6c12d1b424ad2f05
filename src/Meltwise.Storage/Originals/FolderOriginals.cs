using Meltwise.Casework.Recording;

namespace Meltwise.Storage.Originals;

/// <summary>Originals in a folder beside the bench file: <c>bench.meltwise.pictures/ab/cdef…</c>.</summary>
internal sealed class FolderOriginals(string folder) : PictureOriginals
{
    /// <summary>The folder that belongs to a bench file.</summary>
    public static string FolderOf(string benchPath) => benchPath + ".pictures";

    public override string Keep(Stream content)
    {
        string unfinished = Path.Combine(folder, $"{Guid.NewGuid():N}.unfinished");
        try
        {
            Directory.CreateDirectory(folder);
            string sha256 = Write(content, unfinished);
            string place = Place(sha256);
            // A file that is there already is replaced only when it is not what its name says.
            if (File.Exists(place) && Digest(place) == sha256) return sha256;
            Directory.CreateDirectory(Path.GetDirectoryName(place)!);
            File.Move(unfinished, place, overwrite: true);
            return sha256;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new BenchException($"The picture could not be kept in {folder}: it is missing, read-only or full. Nothing was stored.", e);
        }
        finally
        {
            File.Delete(unfinished);
        }
    }

    public override string? PathOf(string sha256) => IsDigest(sha256) && File.Exists(Place(sha256)) ? Place(sha256) : null;

    public override string? DigestNow(string sha256) => PathOf(sha256) is { } path ? Digest(path) : null;

    public override string Place(string sha256) => Path.Combine(folder, sha256[..2], sha256[2..]);
}
