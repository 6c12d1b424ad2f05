using Meltwise.Imaging.Reading;
using Xunit;

namespace Meltwise.Imaging.Tests;

/// <summary>Formats that people have, and files that must be refused.</summary>
public sealed class PictureReaderTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("pictures").FullName;

    [Theory]
    [InlineData("made-micrographs/discs_af10.png", "PNG", 8)]
    [InlineData("made-micrographs/discs_af20_dark_tif8.tif", "TIFF", 8)]
    [InlineData("open-micrographs/superalloy_4_16bit.tif", "TIFF", 16)]
    [InlineData("open-micrographs/glass_bse.jpg", "JPEG", 8)]
    public void Formats_are_known(string path, string format, int bits)
    {
        using MicrographFile file = PictureReader.Open(Path.Combine(AppContext.BaseDirectory, "Published", path));
        Assert.Equal(format, file.Metadata.Format);
        Assert.Equal(bits, file.Metadata.BitsPerSample);
        Assert.Equal(64, file.Sha256.Length);
    }

    /// <summary>The labels of a 16-bit picture come back as the whole numbers that were written.</summary>
    [Fact]
    public void Sixteen_bits_are_kept()
    {
        LabelPicture labels = LabelPicture.Read(Path.Combine(LabelPicture.Folder("made-micrographs"), "discs_af10_labels.png"));
        Assert.Equal(MadePicture.Read("discs_af10").Json.GetProperty("n_total").GetInt32(), labels.Labels.Max());
    }

    [Fact]
    public void A_file_that_is_no_picture_is_refused_by_name()
    {
        string path = Path.Combine(_folder, "notes.png");
        File.WriteAllText(path, "not a picture");
        UnreadablePictureException refused = Assert.Throws<UnreadablePictureException>(() => PictureReader.Open(path));
        Assert.StartsWith("notes.png:", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_picture_cut_short_is_refused()
    {
        byte[] whole = File.ReadAllBytes(MadePicture.Read("discs_af10").Path);
        string path = Path.Combine(_folder, "cut.png");
        File.WriteAllBytes(path, whole[..(whole.Length / 2)]);
        Assert.Throws<UnreadablePictureException>(() => PictureReader.Open(path));
    }

    [Fact]
    public void Limits_hold()
    {
        string path = MadePicture.Read("discs_af10").Path;
        Assert.Throws<UnreadablePictureException>(() => PictureReader.Open(path, limits: new PictureLimits(MaxPixels: 1000)));
        Assert.Throws<UnreadablePictureException>(() => PictureReader.Open(path, limits: new PictureLimits(MaxFileBytes: 1000)));
        Assert.Throws<UnreadablePictureException>(() => PictureReader.Open(path, limits: new PictureLimits(MaxExpansion: 0.5)));
        Assert.Throws<UnreadablePictureException>(() => PictureReader.Open(path, page: 1));
        Assert.Throws<UnreadablePictureException>(() => PictureReader.Open(Path.Combine(_folder, "absent.png")));
    }

    /// <summary>Reading by windows from the file gives what reading it whole gives.</summary>
    [Fact]
    public void Windows_of_the_file_agree_with_the_whole()
    {
        string path = MadePicture.Read("discs_af20_dark_tif8").Path;
        using MicrographFile whole = PictureReader.Open(path), tiled = PictureReader.Open(path, limits: new PictureLimits(MaxWholePixels: 1));
        PixelBox window = new(101, 57, 333, 210);
        float[] a = new float[window.Area], b = new float[window.Area];
        whole.Grey.Read(window, a);
        tiled.Grey.Read(window, b);
        Assert.IsType<GreyPicture>(whole.Grey);
        Assert.IsNotType<GreyPicture>(tiled.Grey);
        Assert.Equal(a, b);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);
}
