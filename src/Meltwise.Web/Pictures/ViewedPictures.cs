using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Viewing;

namespace Meltwise.Web.Pictures;

/// <summary>Keeps the pictures that are being looked at ready to be shown tile by tile, and their previews; the newest few.</summary>
/// <param name="folder">Folder for the levels of very large pictures.</param>
internal sealed class ViewedPictures(string folder)
{
    private const int MostKept = 6;
    private readonly Lock _lock = new();
    private readonly LinkedList<Viewed> _kept = [];

    // One alone: an opened picture of 48 megapixels takes 200 megabytes.
    private readonly Lock _openLock = new();
    private MicrographFile? _open;

    /// <summary>The picture as tiles.</summary>
    /// <param name="picture">The picture.</param>
    /// <param name="progress">Told the share of the levels of a very large picture that is made.</param>
    /// <param name="cancel">Stops making them.</param>
    /// <exception cref="UnreadablePictureException">It is no readable picture.</exception>
    public PictureTiles Tiles(PictureAt picture, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        Viewed viewed = Of(picture);
        lock (viewed)
        {
            return viewed.Tiles ??= PictureTiles.Open(picture.Path, folder, progress: progress, cancel: cancel);
        }
    }

    /// <summary>A small copy of the picture on which settings are tried.</summary>
    /// <exception cref="UnreadablePictureException">It is no readable picture.</exception>
    public PicturePreview Preview(PictureAt picture)
    {
        Viewed viewed = Of(picture);
        lock (viewed)
        {
            if (viewed.Preview is null)
            {
                using MicrographFile file = PictureReader.Open(picture.Path);
                viewed.Preview = PicturePreview.Of(file);
            }

            return viewed.Preview;
        }
    }

    /// <summary>A part of the picture as it is, for trying settings where the person looks.</summary>
    /// <exception cref="UnreadablePictureException">It is no readable picture.</exception>
    public MicrographFile Part(PictureAt picture, PixelBox part)
    {
        lock (_openLock)
        {
            if (_open?.Path != picture.Path)
            {
                _open?.Dispose();
                _open = null;
                _open = PictureReader.Open(picture.Path);
            }

            return PartPreview.Cut(_open, part);
        }
    }

    // What is let go is not closed here: a request may still be reading from it, and its handles close with it.
    private Viewed Of(PictureAt picture)
    {
        lock (_lock)
        {
            Viewed viewed = _kept.FirstOrDefault(v => v.Path == picture.Path) ?? new(picture.Path);
            _kept.Remove(viewed);
            _kept.AddFirst(viewed);
            if (_kept.Count > MostKept)
            {
                _kept.RemoveLast();
            }

            return viewed;
        }
    }

    private sealed class Viewed(string path)
    {
        public string Path => path;

        public PictureTiles? Tiles { get; set; }

        public PicturePreview? Preview { get; set; }
    }
}
