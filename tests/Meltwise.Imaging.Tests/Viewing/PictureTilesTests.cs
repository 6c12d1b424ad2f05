using Meltwise.Imaging.Reading;
using Meltwise.Imaging.Viewing;
using NetVips;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Tiles put together again give the picture; the same from memory and from a file of levels.</summary>
public sealed class PictureTilesTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("tiles").FullName;

    [Theory]
    [InlineData(48_000_000)]
    [InlineData(1)]
    public void Tiles_of_the_first_level_are_the_picture(long mostWhole)
    {
        string path = MadePicture.Read("discs_af10").Path;
        PictureLimits limits = new(MaxWholePixels: mostWhole);
        using PictureTiles tiles = PictureTiles.Open(path, _folder, limits: limits, cancel: TestContext.Current.CancellationToken);
        using MicrographFile file = PictureReader.Open(path);
        (int columns, int rows) = tiles.Tiles(0);
        Assert.Equal(((tiles.Width + 255) / 256, (tiles.Height + 255) / 256), (columns, rows));
        for (int row = 0; row < rows; row++)
            for (int column = 0; column < columns; column++)
            {
                using Image tile = Image.NewFromBuffer(tiles.Png(0, column, row)!);
                byte[] shown = tile.WriteToMemory<byte>();
                var grey = new float[shown.Length];
                file.Grey.Read(new(column * 256, row * 256, tile.Width, tile.Height), grey);
                Assert.Equal(grey.Select(v => (byte)v), shown);
            }
        Assert.Null(tiles.Png(0, columns, 0));
        Assert.Null(tiles.Png(tiles.Levels, 0, 0));
        Assert.Null(tiles.Png(0, -1, 0));
    }

    /// <summary>The last level is one tile whose mean is that of the picture, to half a grey level of rounding a halving.</summary>
    [Theory]
    [InlineData(48_000_000)]
    [InlineData(1)]
    public void The_last_level_is_one_tile_of_the_same_mean(long mostWhole)
    {
        string path = MadePicture.Read("discs_af10").Path;
        using PictureTiles tiles = PictureTiles.Open(path, _folder, limits: new(MaxWholePixels: mostWhole), cancel: TestContext.Current.CancellationToken);
        Assert.Equal((1, 1), tiles.Tiles(tiles.Levels - 1));
        using Image tile = Image.NewFromBuffer(tiles.Png(tiles.Levels - 1, 0, 0)!);
        using MicrographFile file = PictureReader.Open(path);
        Assert.Equal(((GreyPicture)file.Grey).Grey.ToArray().Average(), tile.WriteToMemory<byte>().Average(v => (double)v), 1.5);
    }

    [Fact]
    public void Sixteen_bits_are_stretched_and_it_is_said()
    {
        string path = Path.Combine(LabelPicture.Folder("open-micrographs"), "superalloy_4_16bit.tif");
        using PictureTiles held = PictureTiles.Open(path, _folder, cancel: TestContext.Current.CancellationToken), written = PictureTiles.Open(path, _folder, limits: new(MaxWholePixels: 1), cancel: TestContext.Current.CancellationToken);
        Assert.InRange(held.Black, 0, held.White - 1);
        Assert.Equal(held.Black, written.Black);
        using Image a = Image.NewFromBuffer(held.Png(0, 0, 0)!), b = Image.NewFromBuffer(written.Png(0, 0, 0)!);
        Assert.All(a.WriteToMemory<byte>().Zip(b.WriteToMemory<byte>()), p => Assert.InRange(p.First - p.Second, -1, 1));
        // The levels are kept for the next time.
        Assert.Single(Directory.GetFiles(_folder));
    }

    [Fact]
    public void Making_the_levels_can_be_stopped()
    {
        using CancellationTokenSource stop = new();
        stop.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() => PictureTiles.Open(MadePicture.Read("discs_af10").Path, _folder, limits: new(MaxWholePixels: 1), cancel: stop.Token));
        Assert.Empty(Directory.GetFiles(_folder));
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);
}
