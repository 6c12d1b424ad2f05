using System.Security.Cryptography;
using System.Text;

namespace Meltwise.Web.Intake;

/// <summary>A file that was brought in and is being looked at; nothing of it is on the bench yet.</summary>
public sealed record TrayFile(string Token, string Name, byte[] Content);

/// <summary>Keeps brought-in files while they are looked at: on disk under a name made from their digest, so that they outlive a stopped program, and for a day at most.</summary>
public class UploadTray
{
    private static readonly TimeSpan s_keep = TimeSpan.FromDays(1);
    private readonly string _folder;

    public UploadTray(string folder)
    {
        _folder = folder;
        Directory.CreateDirectory(folder);
        foreach (string old in Directory.EnumerateFiles(folder).Where(f => DateTime.UtcNow - File.GetLastWriteTimeUtc(f) > s_keep))
        {
            File.Delete(old);
        }
    }

    /// <summary>Lays a file down.</summary>
    /// <returns>The token it is found by.</returns>
    public string Put(string name, byte[] content)
    {
        using var stream = new MemoryStream(content);
        return Put(name, stream);
    }

    /// <summary>Lays a file down without holding it whole.</summary>
    /// <returns>The token it is found by.</returns>
    public string Put(string name, Stream content)
    {
        string shown = Path.GetFileName(name.Replace('\\', '/'));
        string unfinished = Path.Combine(_folder, $"{Guid.NewGuid():N}.unfinished");
        try
        {
            string token = TokenOf(shown, content, unfinished);
            File.Move(unfinished, PlaceOf(token, ".table"), overwrite: true);
            File.WriteAllText(PlaceOf(token, ".name"), shown);
            return token;
        }
        finally
        {
            File.Delete(unfinished);
        }
    }

    /// <summary>The file of a token, or null when it is not there (any more).</summary>
    public TrayFile? Find(string token) => FindPath(token) is { } path ? new(token, NameOf(token)!, File.ReadAllBytes(path)) : null;

    /// <summary>The place on disk of a file that is there, for readers that want a path.</summary>
    public string? FindPath(string token) => IsToken(token) && File.Exists(PlaceOf(token, ".table")) && File.Exists(PlaceOf(token, ".name")) ? PlaceOf(token, ".table") : null;

    /// <summary>The name of a file that is there, as the person knows it.</summary>
    public string? NameOf(string token) => FindPath(token) is null ? null : File.ReadAllText(PlaceOf(token, ".name"));

    private static bool IsToken(string token) => token.Length == 20 && token.All(char.IsAsciiHexDigitLower);

    private static string TokenOf(string name, Stream content, string path)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(Encoding.UTF8.GetBytes(name + "\n"));
        using FileStream file = File.Create(path);
        byte[] buffer = new byte[1 << 17];
        for (int read = content.Read(buffer); read > 0; read = content.Read(buffer))
        {
            hash.AppendData(buffer, 0, read);
            file.Write(buffer, 0, read);
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset())[..20];
    }

    private string PlaceOf(string token, string ending) => Path.Combine(_folder, token + ending);
}

/// <summary>The tray of tables.</summary>
public sealed class IntakeTray(string folder) : UploadTray(folder);
