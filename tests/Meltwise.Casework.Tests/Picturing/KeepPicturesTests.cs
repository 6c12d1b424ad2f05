using Meltwise.Casework.Picturing;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Imaging;
using Meltwise.Imaging.Areas;
using Meltwise.Imaging.Reading;
using Meltwise.Storage;
using NetVips;
using Xunit;

namespace Meltwise.Casework.Tests.Picturing;

/// <summary>Pictures are kept, corrected, measured and measured again; hostile and wrong files are refused by name. The pictures are drawn here.</summary>
public sealed class KeepPicturesTests : IDisposable
{
    private static readonly Hand s_hand = new("A. Tester");
    private readonly string _folder = Directory.CreateTempSubdirectory("meltwise-keep-").FullName;
    private readonly Bench _bench;

    public KeepPicturesTests()
    {
        _bench = BenchFile.Create(Path.Combine(_folder, "own.meltwise"), isDemonstration: false);
        _bench.Commit("test", null, [new BenchChange.PutHeat(new("K17", null, null, null)), new BenchChange.PutHeat(new("M03", null, null, null)), new BenchChange.PutCoupon(new("K17", "1"))]);
    }

    public void Dispose()
    {
        _bench.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    private BroughtPicture File(string name, byte[] content)
    {
        string path = Path.Combine(_folder, Guid.NewGuid().ToString("N"));
        System.IO.File.WriteAllBytes(path, content);
        return new(path, name);
    }

    // Discs of that radius on a grid of 50 px; a pixel of 0.1 µm by the resolution tags when asked for.
    private static byte[] Discs(double radius, bool scaled = false, int side = 300)
    {
        byte[] grey = new byte[side * side];
        for (int i = 0; i < grey.Length; i++)
        {
            double dx = (i % side % 50) - 25, dy = (i / side % 50) - 25;
            grey[i] = (dx * dx) + (dy * dy) <= radius * radius ? (byte)210 : (byte)60;
        }
        using Image picture = Image.NewFromMemory(grey, side, side, 1, Enums.BandFormat.Uchar);
        using Image tagged = scaled ? picture.Copy(xres: 10_000, yres: 10_000) : picture.Copy();
        return tagged.WriteToBuffer(".png");
    }

    private Picture Kept(string heat, double radius, string? mount = null) =>
        new KeepPictures(_bench).Run([File($"{heat}-{radius}.png", Discs(radius, scaled: true))], new(heat, Mount: mount, FirstField: 1), s_hand).Value![0];

    [Fact]
    public void Files_are_numbered_and_their_own_scale_is_taken()
    {
        Outcome<IReadOnlyList<Picture>> kept = new KeepPictures(_bench).Run(
            [File("a.png", Discs(8, scaled: true)), File("C:\\lab\\b\u0007.png", Discs(9))], new("K17", "1", "A", 3, "L", "500×", "nital", TakenOn: new(2026, 5, 1)), s_hand);
        Assert.Equal(["P-1", "P-2"], kept.Value!.Select(p => p.Name));
        Assert.Equal([3, 4], kept.Value!.Select(p => p.Field));
        Assert.Equal((0.1, "resolution tags of the file"), (Math.Round(kept.Value![0].MicrometresPerPixel!.Value, 9), kept.Value![0].ScaleSource));
        Assert.Null(kept.Value![1].MicrometresPerPixel);
        Assert.Equal("b.png", kept.Value![1].FileName);
        Assert.Contains(kept.Findings, f => f.Text.Contains("P-2", StringComparison.Ordinal));
        Assert.Equal(kept.Value, _bench.Pictures("K17"));
        Assert.Equal("P-3", Kept("M03", 10).Name);
    }

    [Fact]
    public void The_same_file_is_kept_once()
    {
        Kept("K17", 8);
        Outcome<IReadOnlyList<Picture>> again = new KeepPictures(_bench).Run([File("other.png", Discs(8, scaled: true))], new("M03"), s_hand);
        Assert.False(again.Done);
        Assert.Contains("the same file as picture P-1 of heat K17", again.Findings[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_is_kept_when_one_of_the_files_is_no_picture()
    {
        byte[] cut = Discs(8)[..400];
        foreach (byte[] hostile in (byte[][])["no picture"u8.ToArray(), [], cut, "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/>"u8.ToArray()])
        {
            Outcome<IReadOnlyList<Picture>> kept = new KeepPictures(_bench).Run([File("good.png", Discs(9)), File("../../evil.png", hostile)], new("K17"), s_hand);
            Assert.False(kept.Done);
            Assert.StartsWith("evil.png is no picture that can be read", kept.Findings[0].Text, StringComparison.Ordinal);
        }
        Assert.Empty(_bench.Pictures());
    }

    [Theory]
    [InlineData("M99", null, 1, 0.1, "Heat M99 is not on this bench")]
    [InlineData("K17", "77", 1, 0.1, "has no coupon 77")]
    [InlineData("K17", null, 0, 0.1, "expected a number from 1")]
    [InlineData("K17", null, 1, -1.0, "The scale lies between")]
    public void What_the_bench_does_not_know_is_refused(string heat, string? coupon, int field, double scale, string because)
    {
        Outcome<IReadOnlyList<Picture>> kept = new KeepPictures(_bench).Run([File("a.png", Discs(8))], new(heat, coupon, FirstField: field, MicrometresPerPixel: scale), s_hand);
        Assert.Contains(because, Assert.Single(kept.Findings).Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_measurement_is_kept_with_settings_that_find_the_same_particles_again()
    {
        Picture picture = Kept("K17", 8);
        MeasurementOptions options = MeasureKept.SettingsOf(_bench, picture);
        PictureResult first = MeasureKept.Measure(_bench, picture, options with
        {
            MicrometresPerPixel = 0.2,
            Settings = options.Settings with { LeftOut = [LeftOutArea.Rectangle(new PixelBox(0, 0, 100, 100), "scratch")] },
        }, cancel: TestContext.Current.CancellationToken);
        Assert.Equal(32, first.Count);
        Picture after = MeasureKept.Keep(_bench, picture, first, s_hand).Value!;
        Assert.Equal((0.2, "typed"), (after.MicrometresPerPixel, after.ScaleSource));
        PictureFigures figures = PicturingJson.TryReadFigures(_bench.FindMeasurement("P-1")!.Result)!;
        Assert.Equal((32, first.AreaFraction.Estimate), (figures.Count, figures.AreaFraction));
        PictureResult again = MeasureKept.Measure(_bench, after, MeasureKept.SettingsOf(_bench, after), cancel: TestContext.Current.CancellationToken);
        Assert.Equal(first.ParticleList.Select(p => p.Area), again.ParticleList.Select(p => p.Area));
        Assert.Equal("scratch", again.Settings.LeftOut.Single().Reason);
        Assert.Contains("measured", _bench.Trail("picture", "P-1")[0].Why, StringComparison.Ordinal);
    }

    [Fact]
    public void An_altered_original_is_not_measured()
    {
        Picture picture = Kept("K17", 8);
        System.IO.File.WriteAllBytes(_bench.OriginalPath(picture), Discs(9));
        Assert.Contains("was altered", Assert.Throws<PictureRefusedException>(() => MeasureKept.Measure(_bench, picture, new(), cancel: TestContext.Current.CancellationToken)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_picture_is_set_aside_with_a_reason_and_its_original_stays()
    {
        Picture picture = Kept("K17", 8);
        Assert.False(new CorrectPicture(_bench).SetAside("P-1", "  ", s_hand).Done);
        Assert.True(new CorrectPicture(_bench).SetAside("P-1", "out of focus", s_hand).Done);
        Assert.Equal("out of focus", _bench.FindPicture("P-1")!.SetAside);
        Assert.Empty(AskStructure.Pictures(_bench, new() { Name = "E-1", Title = "?", ReferenceHeats = ["K17"] }));
        Assert.True(System.IO.File.Exists(_bench.OriginalPath(picture)));
        Assert.Throws<BenchException>(() => new CorrectPicture(_bench).Run(picture with { Magnification = "200×" }, s_hand, null));
    }

    [Fact]
    public void The_pictures_of_an_enquiry_are_asked_measured_and_opened_in_this_order()
    {
        foreach (double r in (double[])[8, 8.3, 7.8]) Kept("K17", r, "A");
        foreach (double r in (double[])[12, 12.3, 11.8]) Kept("M03", r, "B");
        _bench.Commit("test", null, [new BenchChange.PutEnquiry(new() { Name = "E-1", Title = "Same?", ReferenceHeats = ["K17"], CandidateHeats = ["M03"] })]);
        AskStructure ask = new(_bench);
        Assert.False(ask.Open("E-1", s_hand).Done);
        Assert.False(ask.Ask("E-1", 1.2, 1.25, null, [], null, s_hand).Done);
        Assert.False(ask.Ask("E-1", 0.8, 1.25, null, ["P-9"], null, s_hand).Done);
        Enquiry asked = ask.Ask("E-1", 0.8, 1.25, "every third place", [], null, s_hand).Value!;
        Assert.False(ask.Open("E-1", s_hand).Done);
        StructureDocument document = StructureComparison.Measure(_bench, asked, DateTime.UtcNow, cancel: TestContext.Current.CancellationToken);
        _bench.Commit("test", null, [StructureComparison.Keep(asked, document)]);
        Enquiry opened = ask.Open("E-1", s_hand).Value!;
        StructureQuantity size = StructureJudgement.Judge(StructureComparison.Stored(_bench, opened)!, opened.Structure!).Single(q => q.Judged.Name == "mean diameter");
        Assert.Equal(Meltwise.Casework.Judging.Outcome.Higher, size.Judged.Outcome);
        Assert.InRange(size.Judged.Ratio!.Value, 1.47, 1.53);
        Assert.Equal("µm", size.Unit);
        Assert.Contains(document.Notes, n => n.Contains("etch is not recorded", StringComparison.Ordinal));
        // Asked anew after the opening, the question says so, and the old measurement no longer answers it.
        Enquiry anew = ask.Ask("E-1", 0.5, 2, null, [], null, s_hand).Value!;
        Assert.True(anew.Structure!.AskedAfterOpening);
        Assert.Null(StructureComparison.Stored(_bench, anew));
        Assert.True(_bench.FindEnquiry("E-1")!.Structure!.AskedAfterOpening);
    }

    [Fact]
    public void Pictures_of_two_scales_are_refused_by_name()
    {
        foreach (double r in (double[])[8, 8.3]) Kept("K17", r);
        Kept("M03", 12);
        Picture other = Kept("M03", 12.4);
        new CorrectPicture(_bench).Run(other with { MicrometresPerPixel = 0.3 }, s_hand, "misread");
        _bench.Commit("test", null, [new BenchChange.PutEnquiry(new() { Name = "E-1", Title = "Same?", ReferenceHeats = ["K17"], CandidateHeats = ["M03"] })]);
        Enquiry asked = new AskStructure(_bench).Ask("E-1", 0.8, 1.25, null, [], null, s_hand).Value!;
        Assert.Contains("0.3 µm per pixel (P-4)", Assert.Throws<PictureRefusedException>(() => StructureComparison.Measure(_bench, asked, DateTime.UtcNow, cancel: TestContext.Current.CancellationToken)).Message, StringComparison.Ordinal);
    }
}
