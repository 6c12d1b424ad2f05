using System.Text;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Publishing.Packs;
using NetVips;
using Xunit;

namespace Meltwise.Publishing.Tests.Packs;

/// <summary>Pictures in packs: whole as they came, and without a trace of place, person or device in the version that names nobody. The pictures are drawn here.</summary>
public sealed class PackedPictureTests
{
    private const string Secret = "Surname of a person";

    // A JPEG that carries a name and a place in its metadata, turned by its orientation tag.
    private static byte[] Photograph()
    {
        byte[] grey = new byte[60 * 40];
        for (int i = 0; i < grey.Length; i++) grey[i] = (byte)(i % 60 < 20 ? 200 : 60);
        using Image bare = Image.NewFromMemory(grey, 60, 40, 1, Enums.BandFormat.Uchar);
        using Image marked = bare.Mutate(m =>
        {
            m.Set(GValue.GStrType, "exif-ifd0-Artist", Secret);
            m.Set(GValue.GStrType, "exif-ifd3-GPSLatitude", "47/1 22/1 30/1");
            m.Set(GValue.GIntType, "orientation", 6);
        });
        return marked.JpegsaveBuffer();
    }

    private static PackInput WithPicture(byte[] file)
    {
        PackInput input = InventedPack.Make();
        Picture picture = new()
        {
            Name = "P-7",
            Heat = input.Report.Heats[0].Name,
            Mount = "A",
            Microscope = $"{Secret}'s own",
            Notes = $"seen by {Secret}",
            Sha256 = Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(file)),
            FileName = $"{Secret}.jpg",
            Format = "JPEG",
            Width = 40,
            Height = 60,
            TakenOn = new(2026, 3, 1),
        };
        return input with { Pictures = [new(picture, file, new("P-7", "{}", "{\"count\":3}", "0.1", new DateTime(2026, 3, 2, 0, 0, 0, DateTimeKind.Utc)))] };
    }

    [Fact]
    public async Task A_picture_is_packed_as_it_came_and_read_back()
    {
        byte[] file = Photograph();
        PackInput input = WithPicture(file);
        using MemoryStream zip = new();
        await PackWriter.WriteZipAsync(input, zip, cancel: TestContext.Current.CancellationToken);
        zip.Position = 0;
        Pack pack = PackReader.ReadZip(zip);
        Assert.Equal(input.Pictures[0].Record, Assert.Single(pack.Records.Pictures));
        Assert.Equal(file, pack.Files["pictures/P-7.jpg"]);
        Assert.Equal("{\"count\":3}", Assert.Single(pack.Records.Measurements).Result);
        Assert.Contains(pack.Records.ToChanges(), c => c is BenchChange.PutPicture);
    }

    [Fact]
    public async Task The_public_pack_holds_the_pixels_and_nothing_else()
    {
        byte[] file = Photograph();
        Assert.Contains(Secret, Encoding.Latin1.GetString(file), StringComparison.Ordinal);
        IReadOnlyDictionary<string, byte[]> files = await PackWriter.FilesAsync(WithPicture(file), anonymous: true, TestContext.Current.CancellationToken);
        foreach ((string path, byte[] content) in files) Assert.False(Encoding.Latin1.GetString(content).Contains(Secret, StringComparison.Ordinal), path);
        using Image shown = Image.NewFromBuffer(files["pictures/P-7.png"]);
        Assert.Equal((40, 60), (shown.Width, shown.Height));
        Assert.DoesNotContain(shown.GetFields(), f => f.StartsWith("exif", StringComparison.Ordinal));
        using Image was = Image.NewFromBuffer(file);
        using Image upright = was.Autorot();
        Assert.Equal(upright.WriteToMemory<byte>(), shown.WriteToMemory<byte>());
    }

    [Fact]
    public async Task A_file_that_was_exchanged_or_taken_out_is_named()
    {
        IReadOnlyDictionary<string, byte[]> files = await PackWriter.FilesAsync(WithPicture(Photograph()), cancel: TestContext.Current.CancellationToken);
        string folder = Directory.CreateTempSubdirectory("meltwise-pack-").FullName;
        try
        {
            foreach ((string path, byte[] content) in files.Where(f => f.Key != "pictures/P-7.jpg"))
            {
                Directory.CreateDirectory(Path.GetDirectoryName(Path.Combine(folder, path))!);
                await File.WriteAllBytesAsync(Path.Combine(folder, path), content, TestContext.Current.CancellationToken);
            }
            Assert.Contains(Assert.Throws<PackFaultException>(() => PackReader.ReadFolder(folder)).Faults, f => f.Contains("P-7", StringComparison.Ordinal));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Theory]
    [InlineData(true, "P-3")]
    [InlineData(false, "P-8")]
    public void A_picture_takes_a_free_name_or_the_one_its_file_has_on_the_bench(bool sameFile, string expected)
    {
        PackInput input = WithPicture(Photograph());
        Picture packed = input.Pictures[0].Record;
        PackRecords records = new() { Enquiry = input.Report.Enquiry, Pictures = [packed], Measurements = [input.Pictures[0].Measurement!] };
        Picture[] there = [packed with { Name = "P-7", Sha256 = "other" }, packed with { Name = "P-3", Sha256 = sameFile ? packed.Sha256 : "third" }];
        PackRecords fitted = records.FittedTo(there, []);
        Assert.Equal(expected, fitted.Measurements[0].Picture);
        Assert.Equal(sameFile ? 0 : 1, fitted.Pictures.Count);
    }
}
