using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Web.Page;

namespace Meltwise.Web.Pictures;

/// <summary>A picture that an address names: one of the bench by its name, or one that lies on the tray for a day by its token.</summary>
/// <param name="Key">Name or token, as in the address.</param>
/// <param name="FileName">Name of the file as the person knows it.</param>
/// <param name="Path">Its place on this machine.</param>
/// <param name="Record">Its record; null while it is not kept.</param>
internal sealed record PictureAt(string Key, string FileName, string Path, Picture? Record)
{
    /// <summary>What a page calls it.</summary>
    public string Title => Record is { } kept ? $"Picture {kept.Name}" : FileName;

    /// <summary>Its address, relative to the bench.</summary>
    public string Address => $"pictures/{Uri.EscapeDataString(Key)}";

    /// <summary>The picture, or null when there is none of that key.</summary>
    /// <exception cref="BenchException">It is on the bench and its original is not there any more.</exception>
    public static PictureAt? Find(string key, Desk desk, PictureTray tray)
    {
        if (tray.FindPath(key) is { } path)
        {
            return new(key, tray.NameOf(key)!, path, null);
        }

        return desk.HasBench && desk.Bench.FindPicture(key) is { } record ? new(key, record.FileName, desk.Bench.OriginalPath(record), record) : null;
    }

    /// <summary>The same for an answer that is a file: without a picture there is none.</summary>
    public static PictureAt? TryFind(string key, Desk desk, PictureTray tray)
    {
        try
        {
            return Find(key, desk, tray);
        }
        catch (BenchException)
        {
            return null;
        }
    }
}
