using Meltwise.Imaging.Reading;
using NetVips;
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

    /// <summary>Files made to break a reader, and files that are pictures but no micrographs: each is refused with what was found, none is measured in part.</summary>
    [Fact]
    public void Hostile_files_are_refused()
    {
        byte[] tiff = File.ReadAllBytes(MadePicture.Read("discs_af20_dark_tif8").Path), png = File.ReadAllBytes(MadePicture.Read("discs_af10").Path);
        byte[] wide = [.. png];
        wide.AsSpan(16, 8).Fill(0x7F);
        byte[] scrambled = [.. png];
        for (int i = png.Length / 3; i < png.Length / 3 + 400; i++) scrambled[i] ^= (byte)(i * 37 | 1);
        (string Name, byte[] Content)[] files =
        [
            ("empty.png", []), ("cut.tif", tiff[..(tiff.Length / 3)]), ("wide.png", wide), ("scrambled.png", scrambled), ("drawing.png", "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9\" height=\"9\"/>"u8.ToArray()), ("head.tif", tiff[..8]),
            ("float.tif", Made(v => v.Cast(Enums.BandFormat.Float), ".tif")), ("signed.tif", Made(v => v.Cast(Enums.BandFormat.Short), ".tif")), ("inks.tif", Made(v => v.Bandjoin(v, v, v).Copy(interpretation: Enums.Interpretation.Cmyk), ".tif")),
            ("five.tif", Made(v => v.Bandjoin(v, v, v, v), ".tif")), ("row.png", Made(v => v.Crop(0, 0, 64, 1), ".png")), ("point.tif", Made(v => v.Crop(0, 0, 1, 1), ".tif")), ("bomb.png", Made(_ => Image.Black(30_000, 30_000), ".png")),
        ];
        foreach ((string name, byte[] content) in files)
        {
            string path = Path.Combine(_folder, name);
            File.WriteAllBytes(path, content);
            UnreadablePictureException? refused = Record.Exception(() => Measured.Picture(path, new() { Limits = new(MaxPixels: 100_000_000) })) as UnreadablePictureException;
            Assert.True(refused is not null && refused.Message.StartsWith(name, StringComparison.Ordinal), $"{name} was not refused");
        }
    }

    /// <summary>One picture in every form that a microscope may write gives the same particles.</summary>
    [Theory]
    [InlineData(".png")]
    [InlineData(".tif[tile,tile-width=64,tile-height=64,compression=deflate]")]
    [InlineData(".tif[compression=lzw,predictor=horizontal]")]
    [InlineData(".tif[pyramid,tile]")]
    [InlineData(".tif[bigtiff]")]
    public void Forms_of_one_picture_agree(string form)
    {
        string path = MadePicture.Read("discs_af10").Path, copy = Path.Combine(_folder, "copy" + form.Split('[')[0]);
        using Image image = Image.NewFromFile(path), wide = image.Cast(Enums.BandFormat.Ushort).Linear([257.0], [0.0]).Cast(Enums.BandFormat.Ushort).Copy(interpretation: Enums.Interpretation.Grey16);
        PictureResult first = Measured.Picture(path);
        foreach (Image written in new[] { image, wide })
        {
            written.WriteToFile(Path.Combine(_folder, "copy" + form));
            PictureResult found = Measured.Picture(copy);
            Assert.Equal(ReferenceEquals(written, wide) ? 16 : 8, found.Metadata.BitsPerSample);
            Assert.Equal(first.ParticleList.Select(p => (p.X, p.Y, p.Area)), found.ParticleList.Select(p => (p.X, p.Y, p.Area)));
        }
    }

    /// <summary>A picture with any of the eight orientation tags is turned upright: its particles are those of the picture so turned.</summary>
    [Theory]
    [InlineData(3, Enums.Angle.D180)]
    [InlineData(6, Enums.Angle.D90)]
    [InlineData(8, Enums.Angle.D270)]
    public void Orientation_is_obeyed(int tag, Enums.Angle turn)
    {
        string tagged = Path.Combine(_folder, "tagged.tif"), turned = Path.Combine(_folder, "turned.tif");
        using Image image = Image.NewFromFile(MadePicture.Read("discs_af20_dark_tif8").Path);
        using (Image marked = image.Mutate(m => m.Set(GValue.GIntType, "orientation", tag))) marked.WriteToFile(tagged);
        using (Image rotated = image.Rot(turn)) rotated.WriteToFile(turned);
        PictureResult a = Measured.Picture(tagged), b = Measured.Picture(turned);
        Assert.Equal((b.Metadata.Width, b.Metadata.Height), (a.Metadata.Width, a.Metadata.Height));
        Assert.Equal(b.ParticleList.Select(p => (p.X, p.Y, p.Area)), a.ParticleList.Select(p => (p.X, p.Y, p.Area)));
        Assert.Contains(a.Notes, n => n.Contains("orientation", StringComparison.Ordinal));
    }

    [Fact]
    public void Pages_are_told_and_chosen()
    {
        string path = Path.Combine(_folder, "pages.tif");
        using (Image first = Image.NewFromFile(MadePicture.Read("touching").Path), second = first.Invert(), both = first.Join(second, Enums.Direction.Vertical))
        using (Image pages = both.Mutate(m => m.Set(GValue.GIntType, "page-height", first.Height))) pages.WriteToFile(path);
        PictureResult a = Measured.Picture(path), b = Measured.Picture(path, new() { Page = 1 });
        Assert.Equal(2, a.Metadata.Pages);
        Assert.Contains(b.Notes, n => n.Contains("page 2 was taken", StringComparison.Ordinal));
        Assert.Equal(Segmentation.Polarity.Bright, a.Settings.Polarity);
        Assert.Equal(Segmentation.Polarity.Dark, b.Settings.Polarity);
    }

    private static byte[] Made(Func<Image, Image> make, string form)
    {
        using Image plain = Image.NewFromFile(MadePicture.Read("touching").Path), grey = plain.ExtractBand(0);
        using Image made = make(grey);
        return made.WriteToBuffer(form);
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
