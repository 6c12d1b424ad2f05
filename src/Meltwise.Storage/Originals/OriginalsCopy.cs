using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Storage.Records;
using Meltwise.Storage.Retrieval;

namespace Meltwise.Storage.Originals;

/// <summary>Copies the originals of all pictures to the folder beside a copy of a bench file. Originals are kept before their record, so the copy of the file names none that is not there.</summary>
internal static class OriginalsCopy
{
    public static void Write(Engine engine, string benchCopy)
    {
        string folder = FolderOriginals.FolderOf(benchCopy);
        foreach (Picture picture in CurrentRecords.Of(engine, PictureTables.Pictures, []))
        {
            // What is missing already is for the check to tell; a backup of the rest is worth having.
            if (engine.Originals.PathOf(picture.Sha256) is not { } path) continue;
            string place = new FolderOriginals(folder).Place(picture.Sha256);
            try
            {
                Directory.CreateDirectory(Path.GetDirectoryName(place)!);
                File.Copy(path, place, overwrite: true);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                throw new BenchException($"The original of picture {picture.Name} could not be copied to {folder}: the disk is full or the folder is read-only. The copy {benchCopy} is not whole; delete it and give another place.", e);
            }
        }
    }
}
