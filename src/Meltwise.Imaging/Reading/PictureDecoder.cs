using NetVips;

namespace Meltwise.Imaging.Reading;

/// <summary>Settings of the decoder for the whole program, made once before the first picture is read.</summary>
internal static class PictureDecoder
{
    private static readonly Lazy<bool> s_prepared = new(() =>
    {
        // A cached picture would be given again for a file whose content has changed since, under the digest of the new content.
        Cache.Max = 0;
        // What the decoder says of a bad file comes as an exception too; its own lines on standard error are for no reader of ours.
        Log.SetLogHandler("VIPS", Enums.LogLevelFlags.Warning, (_, _, _) => { });
        return true;
    });

    /// <summary>Makes the settings when they are not made yet.</summary>
    public static bool Prepare() => s_prepared.Value;
}
