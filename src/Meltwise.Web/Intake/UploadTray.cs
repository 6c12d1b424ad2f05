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
        string shown = Path.GetFileName(name.Replace('\\', '/'));
        string token = Convert.ToHexStringLower(SHA256.HashData([.. Encoding.UTF8.GetBytes(shown + "\n"), .. content]))[..20];
        File.WriteAllBytes(PlaceOf(token, ".table"), content);
        File.WriteAllText(PlaceOf(token, ".name"), shown);
        return token;
    }

    /// <summary>The file of a token, or null when it is not there (any more).</summary>
    public TrayFile? Find(string token)
    {
        bool wellFormed = token.Length == 20 && token.All(char.IsAsciiHexDigitLower);
        return wellFormed && File.Exists(PlaceOf(token, ".table")) && File.Exists(PlaceOf(token, ".name"))
            ? new(token, File.ReadAllText(PlaceOf(token, ".name")), File.ReadAllBytes(PlaceOf(token, ".table")))
            : null;
    }

    /// <summary>The place on disk of a file that is there, for readers that want a path.</summary>
    public string? FindPath(string token) => Find(token) is null ? null : PlaceOf(token, ".table");

    private string PlaceOf(string token, string ending) => Path.Combine(_folder, token + ending);
}

/// <summary>The tray of tables.</summary>
public sealed class IntakeTray(string folder) : UploadTray(folder);
