using Meltwise.Casework.Recording;
using Meltwise.Storage;

namespace Meltwise.Web.Hosting;

/// <summary>Opens bench files of the storage.</summary>
internal sealed class BenchFiles : IBenchOpener
{
    /// <inheritdoc/>
    public IBench Open(string path) => BenchFile.Open(path);

    /// <inheritdoc/>
    public void Make(string path)
    {
        using IBench made = BenchFile.Create(path, isDemonstration: false);
    }

    /// <inheritdoc/>
    public void Copy(IBench bench, string path) => ((Storage.Bench)bench).BackUp(path);
}
