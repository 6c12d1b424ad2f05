using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Publishing.Figures;
using Meltwise.Publishing.Report;
using Meltwise.Publishing.Tables;

namespace Meltwise.Publishing.Packs;

/// <summary>Writes a pack: one enquiry's data with a codebook, its records, verdict, figures and report, each file listed with its digest.</summary>
public static class PackWriter
{
    /// <summary>Writes it as a zip.</summary>
    /// <param name="input">Enquiry, verdict, records.</param>
    /// <param name="zip">Where to.</param>
    /// <param name="anonymous">True for the version that names nobody.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="ReportFaultException">A private name is left in a version that must hold none.</exception>
    public static async Task WriteZipAsync(PackInput input, Stream zip, bool anonymous = false, CancellationToken cancel = default)
    {
        IReadOnlyDictionary<string, byte[]> files = await FilesAsync(input, anonymous, cancel).ConfigureAwait(false);
        await using ZipArchive archive = await ZipArchive.CreateAsync(zip, ZipArchiveMode.Create, leaveOpen: true, entryNameEncoding: null, cancel).ConfigureAwait(false);
        foreach ((string path, byte[] content) in files)
        {
            ZipArchiveEntry entry = archive.CreateEntry(path, path.StartsWith("pictures/", StringComparison.Ordinal) ? CompressionLevel.NoCompression : CompressionLevel.Optimal);
            // One time for all: the same data make the same pack.
            entry.LastWriteTime = new(input.Report.AtUtc.Year < 1980 ? new DateTime(1980, 1, 1, 0, 0, 0, DateTimeKind.Utc) : input.Report.AtUtc, TimeSpan.Zero);
            await using Stream stream = await entry.OpenAsync(cancel).ConfigureAwait(false);
            await stream.WriteAsync(content, cancel).ConfigureAwait(false);
        }
    }

    /// <summary>Writes it as a folder, which must be empty or not exist.</summary>
    /// <exception cref="IOException">The folder holds something.</exception>
    public static async Task WriteFolderAsync(PackInput input, string folder, bool anonymous = false, CancellationToken cancel = default)
    {
        if (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any())
            throw new IOException($"The folder {folder} is not empty. Nothing was written; name an empty or a new one.");
        foreach ((string path, byte[] content) in await FilesAsync(input, anonymous, cancel).ConfigureAwait(false))
        {
            string place = Path.Combine(folder, path.Replace('/', Path.DirectorySeparatorChar));
            Directory.CreateDirectory(Path.GetDirectoryName(place)!);
            await File.WriteAllBytesAsync(place, content, cancel).ConfigureAwait(false);
        }
    }

    /// <summary>The files of the pack by path, manifest first.</summary>
    public static async Task<IReadOnlyDictionary<string, byte[]>> FilesAsync(PackInput input, bool anonymous = false, CancellationToken cancel = default)
    {
        Documents.ReportDocument document = ReportBuilder.Build(input.Report, anonymous);
        PrivateNames? hidden = null;
        if (anonymous)
            (input, hidden) = PublicPack.Of(input);
        SortedDictionary<string, byte[]> files = new(StringComparer.Ordinal);
        DataTable[] tables = [CouponDataTable.Of(input.Coupons, "coupons"), ChemistryDataTable.Of(input.Report.Chemistry)];
        foreach (DataTable table in tables.Where(t => t.Rows.Count > 0))
        {
            files[$"data/{table.Name}.csv"] = CsvTable.Write(table);
            files[$"data/{table.Name}.parquet"] = await ParquetTable.WriteAsync(table, cancel).ConfigureAwait(false);
        }
        files["data/tables.xlsx"] = await XlsxTable.WriteAsync([.. tables.Where(t => t.Rows.Count > 0)], cancel).ConfigureAwait(false);
        files["data/codebook.json"] = Json(Codebook.Of(tables));
        files["data/records.json"] = Json(Records(input));
        files["verdict.json"] = Encoding.UTF8.GetBytes(VerdictJson.Write(input.Report.Verdict));
        files["report.html"] = Encoding.UTF8.GetBytes(ReportHtml.Write(document));
        files["report.pdf"] = ReportPdf.Write(document);
        foreach (Documents.Block.Drawn drawn in document.Blocks.OfType<Documents.Block.Drawn>())
        {
            cancel.ThrowIfCancellationRequested();
            string name = $"figures/{files.Keys.Count(k => k.StartsWith("figures/", StringComparison.Ordinal) && k.EndsWith(".svg", StringComparison.Ordinal)) + 1}";
            files[name + ".svg"] = Encoding.UTF8.GetBytes(FigureSvg.Write(drawn.Figure, FigureSvgOptions.AsFile));
            files[name + ".png"] = FigurePng.Write(drawn.Figure);
            files[name + ".csv"] = Encoding.UTF8.GetBytes("\uFEFF" + FigureCsv.Write(drawn.Figure.Data));
        }
        foreach (PackedPicture picture in input.Pictures) files[picture.Path] = picture.File;
        files["README.txt"] = Encoding.UTF8.GetBytes(ReadMe(input, anonymous));
        hidden?.CheckTexts(files.Where(f => f.Key.EndsWith(".json", StringComparison.Ordinal) || f.Key.EndsWith(".csv", StringComparison.Ordinal) || f.Key.EndsWith(".txt", StringComparison.Ordinal)).Select(f => Encoding.UTF8.GetString(f.Value)));
        files["pack.json"] = Json(Manifest(input, anonymous, files));
        return files;
    }

    private static PackManifest Manifest(PackInput input, bool anonymous, SortedDictionary<string, byte[]> files) => new()
    {
        Schema = PackManifest.Form,
        Program = input.Report.Verdict.Reproduction.Version,
        Enquiry = input.Report.Enquiry.Name,
        Id = PackId.Of(input.Report.Verdict),
        MadeUtc = input.Report.AtUtc,
        IsDemonstration = input.Report.IsDemonstration,
        IsPublicVersion = anonymous,
        Citation = Citation(input),
        Files = [.. files.Select(f => new PackFile(f.Key, f.Value.Length, Convert.ToHexStringLower(SHA256.HashData(f.Value))))],
    };

    private static PackRecords Records(PackInput input)
    {
        ReportInput r = input.Report;
        HashSet<string> sources = [.. r.Heats.Select(h => h.Source).OfType<string>()], grades = [.. r.Heats.Select(h => h.Grade).OfType<string>()], instruments = [.. r.Instruments.Select(i => i.Name)];
        return new()
        {
            Enquiry = r.Enquiry,
            Sources = [.. r.Sources.Where(s => sources.Contains(s.Name))],
            Grades = [.. r.Grades.Where(g => grades.Contains(g.Name))],
            Heats = r.Heats,
            HotHistories = r.HotHistories,
            Treatments = r.Treatments,
            FurnaceTraces = r.FurnaceTraces,
            Coupons = r.Coupons,
            Readings = input.Readings,
            Chemistry = r.Chemistry,
            Custody = r.Custody,
            Origins = r.Origins,
            Pictures = [.. input.Pictures.Select(p => p.Record)],
            Measurements = [.. input.Pictures.Select(p => p.Measurement).OfType<KeptMeasurement>()],
            Structure = input.Structure,
            Instruments = r.Instruments,
            Verifications = [.. r.Verifications.Where(v => instruments.Contains(v.Instrument))],
        };
    }

    private static string Citation(PackInput input) =>
        $"{input.Report.Enquiry.Name}, {input.Report.VersionLabel}, {input.Report.AtUtc:yyyy-MM-dd}, data package {PackId.Of(input.Report.Verdict)}, data digest {input.Report.Verdict.Reproduction.DataDigest}, Meltwise {input.Report.Verdict.Reproduction.Version}.";

    private static string ReadMe(PackInput input, bool anonymous) => $"""
        Pack of {input.Report.Enquiry.Name}, {input.Report.VersionLabel}{(anonymous ? " (the version that names nobody)" : "")}
        {(input.Report.IsDemonstration ? "Demonstration: all names and numbers are invented." : "It relates only to the items tested.")}

        report.html, report.pdf   the report
        verdict.json              the verdict with every number, note and claim
        data/coupons.csv          one row a coupon; also as .parquet, and in tables.xlsx
        data/chemistry.csv        one row a result
        data/codebook.json        what every column means, with its unit
        data/records.json         the records, complete, for a bench to take in: meltwise unpack
        figures/                  figures as SVG, as pictures for slides, and their data
        pictures/                 {(input.Pictures.Count == 0 ? "none belong to it" : anonymous ? "the pictures without the files' own data; what is burnt into a picture stays" : "the pictures as they came, by the names in records.json")}{(input.LargePictures.Count > 0 ? $" (too large for a pack, not in it: {string.Join(", ", input.LargePictures)})" : "")}
        pack.json                 every file with its size and SHA-256

        In CSV, a text that a spreadsheet would take for a formula has an apostrophe before it. An empty cell is unknown. > and < mark bounds.
        {Citation(input)}
        """;

    private static byte[] Json<T>(T value) => JsonSerializer.SerializeToUtf8Bytes(value, PackJson.Options);
}
