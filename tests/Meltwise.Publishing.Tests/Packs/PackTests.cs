using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Publishing.Packs;
using Xunit;

namespace Meltwise.Publishing.Tests.Packs;

public sealed class PackTests
{
    [Fact]
    public async Task What_is_packed_is_read_back_whole()
    {
        PackInput input = InventedPack.Make();
        using MemoryStream zip = new();
        await PackWriter.WriteZipAsync(input, zip, cancel: TestContext.Current.CancellationToken);
        zip.Position = 0;
        Pack pack = PackReader.ReadZip(zip);
        Assert.Equal(VerdictJson.Write(input.Report.Verdict), VerdictJson.Write(pack.Verdict));
        Assert.Equal(input.Readings, pack.Records.Readings);
        Assert.Equal(input.Report.Coupons, pack.Records.Coupons);
        Assert.Equal(input.Report.Heats, pack.Records.Heats);
        Assert.Equal(input.Report.Chemistry, pack.Records.Chemistry);
        FurnaceTrace trace = Assert.Single(pack.Records.FurnaceTraces), packed = input.Report.FurnaceTraces[0];
        Assert.Equal(packed with { Minutes = trace.Minutes, TemperatureC = trace.TemperatureC }, trace);
        Assert.Equal(packed.TemperatureC, trace.TemperatureC);
        Assert.Equal(input.Report.Treatments[0].SetValues, pack.Records.Treatments[0].SetValues);
        Assert.Equal(input.Report.Enquiry.Rule, pack.Records.Enquiry.Rule);
        Assert.Equal(input.Report.Enquiry.Lock, pack.Records.Enquiry.Lock);
        Assert.Equal(input.Report.Custody, pack.Records.Custody);
        Assert.Equal(input.Report.Origins, pack.Records.Origins);
        Assert.Equal(input.Report.Enquiry.Work, pack.Records.Enquiry.Work);
        Assert.Contains(pack.Codebook.Tables[0].Columns, c => c is { Name: "origin size [µm]", Unit: "µm" });
        Assert.Equal(1 + 2 + 2 + 1 + 24 + 48 + 2 + 5 + pack.Records.Chemistry.Count + 2 + 2 + 1 + pack.Records.FurnaceTraces.Count, pack.Records.ToChanges().Count() + (pack.Records.Grades.Count == 1 ? 0 : 1));
        Assert.Contains("report.pdf", pack.Files.Keys);
        Assert.Contains("figures/1.svg", pack.Files.Keys);
    }

    [Fact]
    public async Task A_trace_that_cannot_be_drawn_or_whose_file_is_another_is_named()
    {
        PackInput input = InventedPack.Make();
        FurnaceTrace trace = input.Report.FurnaceTraces[0];
        FurnaceTrace[] broken = [trace with { Minutes = [0, 1, 1, 2] }, trace with { TemperatureC = [20] }, trace with { ToleranceC = 0 }, trace with { Original = "no gzip" }];
        IReadOnlyDictionary<string, byte[]> files = await PackWriter.FilesAsync(input with { Report = input.Report with { FurnaceTraces = [trace] } }, cancel: TestContext.Current.CancellationToken);
        Assert.Empty(RecordTrace.FaultsOf(trace));
        Assert.All(broken, b => Assert.Single(RecordTrace.FaultsOf(b)));
        Dictionary<string, byte[]> spoilt = new(files) { ["data/records.json"] = Replaced(files["data/records.json"], "\"toleranceC\": 10", "\"toleranceC\": -1") };
        spoilt["pack.json"] = Replaced(files["pack.json"], Digest(files["data/records.json"]), Digest(spoilt["data/records.json"]));
        PackFaultException fault = Assert.Throws<PackFaultException>(() => PackReader.ReadZip(Zip(spoilt)));
        Assert.Equal("records.json: furnace trace T-1: expected a set value and a tolerance above 0.", Assert.Single(fault.Faults));
    }

    [Fact]
    public void Traces_take_free_names_on_the_bench_that_takes_them_in_and_are_taken_once()
    {
        FurnaceTrace trace = InventedReport.Make().FurnaceTraces[0];
        PackRecords records = new() { Enquiry = InventedReport.Make().Enquiry, FurnaceTraces = [trace, trace with { Name = "T-2", Step = "temper 1" }] };
        Assert.Equal(["T-3", "T-2"], records.FittedTo([], [trace with { Load = "another" }]).FurnaceTraces.Select(t => t.Name));
        Assert.Equal(["T-2"], records.FittedTo([], [trace with { Name = "T-9" }]).FurnaceTraces.Select(t => t.Name));
    }

    [Fact]
    public async Task A_folder_is_read_like_a_zip_and_never_overwritten()
    {
        string folder = Path.Combine(Path.GetTempPath(), "meltwise-pack-" + Guid.NewGuid().ToString("N"));
        try
        {
            await PackWriter.WriteFolderAsync(InventedPack.Make(), folder, cancel: TestContext.Current.CancellationToken);
            Assert.Equal("E-118", PackReader.Read(folder).Manifest.Enquiry);
            await Assert.ThrowsAsync<IOException>(() => PackWriter.WriteFolderAsync(InventedPack.Make(), folder, cancel: TestContext.Current.CancellationToken));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public async Task The_public_pack_holds_no_private_name_in_any_text()
    {
        IReadOnlyDictionary<string, byte[]> files = await PackWriter.FilesAsync(InventedPack.Make(), anonymous: true, TestContext.Current.CancellationToken);
        foreach ((_, byte[] content) in files.Where(f => Path.GetExtension(f.Key) is ".json" or ".csv" or ".txt"))
        {
            string text = Encoding.UTF8.GetString(content);
            foreach (string name in InventedReport.PrivateNames)
                Assert.DoesNotMatch($@"(?i)(?<![\p{{L}}\p{{N}}]){Regex.Escape(name)}(?![\p{{L}}\p{{N}}])", text);
        }
        Assert.DoesNotContain(files.Keys, k => InventedReport.PrivateNames.Any(n => k.Contains(n, StringComparison.OrdinalIgnoreCase)));
    }

    [Fact]
    public async Task A_changed_file_is_named()
    {
        Dictionary<string, byte[]> files = new(await PackWriter.FilesAsync(InventedPack.Make(), cancel: TestContext.Current.CancellationToken));
        files["data/coupons.csv"][40] ^= 1;
        files["extra.txt"] = [1];
        files.Remove("report.pdf");
        PackFaultException fault = Assert.Throws<PackFaultException>(() => PackReader.ReadZip(Zip(files)));
        Assert.Contains(fault.Faults, f => f.Contains("data/coupons.csv", StringComparison.Ordinal) && f.Contains("changed", StringComparison.Ordinal));
        Assert.Contains(fault.Faults, f => f.Contains("extra.txt", StringComparison.Ordinal));
        Assert.Contains(fault.Faults, f => f.Contains("report.pdf", StringComparison.Ordinal) && f.Contains("missing", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("../outside.txt")]
    [InlineData("/etc/passwd")]
    [InlineData("data\\..\\x")]
    [InlineData("C:/x")]
    [InlineData("a//b")]
    public void A_path_that_leads_out_is_refused(string path)
    {
        PackFaultException fault = Assert.Throws<PackFaultException>(() => PackReader.ReadZip(Zip(new() { [path] = [1] })));
        Assert.Contains("leads out", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_zip_that_explodes_is_refused_before_it_fills_the_memory()
    {
        PackFaultException grown = Assert.Throws<PackFaultException>(() => PackReader.ReadZip(Zip(new() { ["big.txt"] = new byte[64 << 20] })));
        Assert.Contains("-fold", grown.Message, StringComparison.Ordinal);
        PackFaultException many = Assert.Throws<PackFaultException>(() => PackReader.ReadZip(Zip(Enumerable.Range(0, 30).ToDictionary(i => $"f{i}", _ => new byte[1])), new() { Files = 20 }));
        Assert.Contains("at most 20", many.Message, StringComparison.Ordinal);
        PackFaultException large = Assert.Throws<PackFaultException>(() => PackReader.ReadZip(Zip(new() { ["a"] = new byte[600], ["b"] = new byte[600] }), new() { TotalBytes = 1000 }));
        Assert.Contains("more than a pack may hold", large.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_no_pack_is_said_to_be_none()
    {
        Assert.Contains("not a whole zip", Assert.Throws<PackFaultException>(() => PackReader.ReadZip(new MemoryStream([1, 2, 3]))).Message, StringComparison.Ordinal);
        Assert.Contains("no pack.json", Assert.Throws<PackFaultException>(() => PackReader.ReadZip(Zip(new() { ["a.txt"] = [1] }))).Message, StringComparison.Ordinal);
        Assert.Contains("cannot be read at line", Assert.Throws<PackFaultException>(() => PackReader.ReadZip(Zip(new() { ["pack.json"] = "{}"u8.ToArray() }))).Message, StringComparison.Ordinal);
        Assert.Contains("There is no file or folder", Assert.Throws<PackFaultException>(() => PackReader.Read("/nowhere/at/all.zip")).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_cut_off_zip_never_reads_and_never_crashes()
    {
        using MemoryStream zip = new();
        await PackWriter.WriteZipAsync(InventedPack.Make(), zip, cancel: TestContext.Current.CancellationToken);
        byte[] whole = zip.ToArray();
        for (int i = 1; i < 12; i++)
            Assert.Throws<PackFaultException>(() => PackReader.ReadZip(new MemoryStream(whole[..(whole.Length * i / 12)])));
        for (int i = 0; i < 40; i++)
        {
            byte[] damaged = [.. whole];
            damaged[(int)((0.5 + (i * 0.6180339887)) % 1 * damaged.Length)] ^= 0x55;
            try
            {
                PackReader.ReadZip(new MemoryStream(damaged));
            }
            catch (PackFaultException fault)
            {
                Assert.NotEmpty(fault.Faults);
            }
        }
    }

    private static byte[] Replaced(byte[] file, string was, string becomes) => Encoding.UTF8.GetBytes(Encoding.UTF8.GetString(file).Replace(was, becomes, StringComparison.Ordinal));

    private static string Digest(byte[] file) => Convert.ToHexStringLower(SHA256.HashData(file));

    private static MemoryStream Zip(Dictionary<string, byte[]> files)
    {
        MemoryStream zip = new();
        using (ZipArchive archive = new(zip, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach ((string path, byte[] content) in files)
            {
                using Stream entry = archive.CreateEntry(path).Open();
                entry.Write(content);
            }
        }
        zip.Position = 0;
        return zip;
    }
}
