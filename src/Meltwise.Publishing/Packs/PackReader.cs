using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Publishing.Tables;

namespace Meltwise.Publishing.Packs;

/// <summary>A pack that was read and found whole.</summary>
/// <param name="Manifest">Its table of contents.</param>
/// <param name="Records">The records, for a bench to take in.</param>
/// <param name="Verdict">The verdict.</param>
/// <param name="Codebook">What the columns mean.</param>
/// <param name="Files">Content by path.</param>
public sealed record Pack(PackManifest Manifest, PackRecords Records, Verdict Verdict, Codebook Codebook, IReadOnlyDictionary<string, byte[]> Files);

/// <summary>Reads a pack and checks it: limits first, then paths, sizes and digests, then that tables, records and verdict agree. Nothing is written anywhere.</summary>
public static class PackReader
{
    /// <summary>Reads a zip.</summary>
    /// <exception cref="PackFaultException">It is no pack, too large, damaged or changed; all faults that could be found are named.</exception>
    public static Pack ReadZip(Stream zip, PackLimits? limits = null)
    {
        limits ??= new();
        Dictionary<string, byte[]> files = new(StringComparer.Ordinal);
        try
        {
            using ZipArchive archive = new(zip, ZipArchiveMode.Read, leaveOpen: true);
            Guard(archive.Entries.Count <= limits.Files, $"The zip lists {archive.Entries.Count} files; at most {limits.Files} are read.");
            long total = 0;
            foreach (ZipArchiveEntry entry in archive.Entries.Where(e => !e.FullName.EndsWith('/')))
            {
                Guard(IsSafe(entry.FullName), $"The path “{Shown(entry.FullName)}” leads out of the pack.");
                Guard(!files.ContainsKey(entry.FullName), $"The path “{Shown(entry.FullName)}” stands twice in the zip.");
                byte[] content = Unpack(entry, limits, limits.TotalBytes - total);
                total += content.Length;
                files.Add(entry.FullName, content);
            }
        }
        catch (InvalidDataException)
        {
            throw new PackFaultException(["The file is not a whole zip: it is cut off, damaged, or of another kind. Ask for it again."]);
        }
        return Check(files, limits);
    }

    /// <summary>Reads a folder.</summary>
    /// <exception cref="PackFaultException">As for a zip.</exception>
    public static Pack ReadFolder(string folder, PackLimits? limits = null)
    {
        limits ??= new();
        Guard(Directory.Exists(folder), $"There is no folder {folder}.");
        Dictionary<string, byte[]> files = new(StringComparer.Ordinal);
        long total = 0;
        foreach (FileInfo file in new DirectoryInfo(folder).EnumerateFiles("*", SearchOption.AllDirectories))
        {
            string path = Path.GetRelativePath(folder, file.FullName).Replace(Path.DirectorySeparatorChar, '/');
            Guard(file.LinkTarget is null, $"“{Shown(path)}” is a link to elsewhere; a pack holds files only.");
            total += file.Length;
            Guard(files.Count < limits.Files && file.Length <= limits.FileBytes && total <= limits.TotalBytes, "The folder holds more than a pack may: too many files or bytes.");
            files.Add(path, File.ReadAllBytes(file.FullName));
        }
        return Check(files, limits);
    }

    /// <summary>Reads a zip or a folder, whichever is there.</summary>
    /// <exception cref="PackFaultException">As for a zip.</exception>
    public static Pack Read(string path, PackLimits? limits = null)
    {
        if (Directory.Exists(path))
            return ReadFolder(path, limits);
        Guard(File.Exists(path), $"There is no file or folder {path}.");
        using FileStream zip = File.OpenRead(path);
        return ReadZip(zip, limits);
    }

    // Sizes in a zip's directory can lie, so bytes are counted as they come.
    private static byte[] Unpack(ZipArchiveEntry entry, PackLimits limits, long room)
    {
        const int Megabyte = 1 << 20;
        using Stream stream = entry.Open();
        using MemoryStream content = new();
        byte[] buffer = new byte[81920];
        int read;
        while ((read = stream.Read(buffer)) > 0)
        {
            content.Write(buffer, 0, read);
            Guard(content.Length <= limits.FileBytes && content.Length <= room, $"“{Shown(entry.FullName)}” unpacks to more than a pack may hold.");
            Guard(content.Length <= Megabyte || content.Length <= limits.Expansion * Math.Max(1, entry.CompressedLength), $"“{Shown(entry.FullName)}” grows more than {limits.Expansion:0}-fold on unpacking, as no data of a bench do.");
        }
        return content.ToArray();
    }

    private static Pack Check(Dictionary<string, byte[]> files, PackLimits limits)
    {
        Guard(files.ContainsKey("pack.json"), "There is no pack.json, so this is not a pack.");
        PackManifest manifest = Json<PackManifest>(files, "pack.json");
        Guard(manifest.Schema == PackManifest.Form, $"The pack is in the form “{Shown(manifest.Schema)}”; this program reads {PackManifest.Form}.");
        List<string> faults = [.. FileFaults(manifest, files)];
        if (faults.Count > 0)
            throw new PackFaultException(faults);
        Codebook codebook = Json<Codebook>(files, "data/codebook.json");
        PackRecords records = Json<PackRecords>(files, "data/records.json");
        foreach (CodebookTable table in codebook.Tables)
            faults.AddRange(TableFaults(table, files, limits));
        Verdict verdict = VerdictOf(files);
        HashSet<string> heats = [.. records.Heats.Select(h => h.Name)];
        faults.AddRange(records.Coupons.Where(c => !heats.Contains(c.Heat)).Select(c => $"records.json: coupon {Shown(c.Name)} belongs to heat {Shown(c.Heat)}, which is not in the pack."));
        HashSet<Domain.CouponKey> coupons = [.. records.Coupons.Select(c => c.Key)];
        faults.AddRange(records.Readings.Where(r => !coupons.Contains(r.Coupon)).Select(r => $"records.json: a reading belongs to coupon {Shown(r.Coupon.ToString())}, which is not in the pack."));
        faults.AddRange(PictureFaults(records, files, heats));
        faults.AddRange(records.FurnaceTraces.SelectMany(t => RecordTrace.FaultsOf(t).Select(f => $"records.json: furnace trace {Shown(t.Name)}: {f}")));
        return faults.Count == 0 ? new(manifest, records, verdict, codebook, files) : throw new PackFaultException([.. faults.Take(100)]);
    }

    private static IEnumerable<string> FileFaults(PackManifest manifest, Dictionary<string, byte[]> files)
    {
        foreach (PackFile listed in manifest.Files)
        {
            if (!files.TryGetValue(listed.Path, out byte[]? content))
                yield return $"“{Shown(listed.Path)}” is listed and missing.";
            else if (content.Length != listed.Bytes || Convert.ToHexStringLower(SHA256.HashData(content)) != listed.Sha256)
                yield return $"“{Shown(listed.Path)}” was changed after the pack was made: its digest is another.";
        }
        foreach (string path in files.Keys.Where(p => p != "pack.json" && manifest.Files.All(f => f.Path != p)))
            yield return $"“{Shown(path)}” is not listed in pack.json.";
        foreach (string needed in (string[])["data/codebook.json", "data/records.json", "verdict.json"])
        {
            if (!files.ContainsKey(needed))
                yield return $"{needed} is missing.";
        }
    }

    private static IEnumerable<string> TableFaults(CodebookTable table, Dictionary<string, byte[]> files, PackLimits limits)
    {
        string path = $"data/{table.Name}.csv";
        if (!files.TryGetValue(path, out byte[]? file))
            return [$"{Shown(path)} is in the codebook and missing."];
        if (table.Rows > limits.Rows)
            return [$"{Shown(path)} has {table.Rows} rows; at most {limits.Rows} are read."];
        try
        {
            IReadOnlyList<IReadOnlyList<string?>> rows = CsvTable.Read(file);
            if (rows.Count - 1 != table.Rows)
                return [$"{Shown(path)} has {rows.Count - 1} rows, the codebook says {table.Rows}."];
            return rows[0].SequenceEqual(table.Columns.Select(c => c.Name)) ? [] : [$"{Shown(path)} has other columns than the codebook."];
        }
        catch (FormatException fault)
        {
            return [$"{Shown(path)}: {fault.Message}"];
        }
    }

    private static IEnumerable<string> PictureFaults(PackRecords records, Dictionary<string, byte[]> files, HashSet<string> heats)
    {
        foreach (Domain.Picture picture in records.Pictures)
        {
            if (!heats.Contains(picture.Heat)) yield return $"records.json: picture {Shown(picture.Name)} shows heat {Shown(picture.Heat)}, which is not in the pack.";
            if (!files.TryGetValue(PackedPicture.PathOf(picture), out byte[]? file)) yield return $"records.json: the file of picture {Shown(picture.Name)} is missing.";
            else if (PackedPicture.Digest(file) != picture.Sha256) yield return $"records.json: the file of picture {Shown(picture.Name)} is another than its record says.";
        }
        HashSet<string> names = [.. records.Pictures.Select(p => p.Name)];
        foreach (Domain.KeptMeasurement measurement in records.Measurements.Where(m => !names.Contains(m.Picture)))
            yield return $"records.json: a measurement belongs to picture {Shown(measurement.Picture)}, which is not in the pack.";
    }

    private static Verdict VerdictOf(Dictionary<string, byte[]> files)
    {
        try
        {
            return VerdictJson.Read(Encoding.UTF8.GetString(files["verdict.json"]));
        }
        catch (ComparisonFaultException fault)
        {
            throw new PackFaultException([$"verdict.json: {fault.Message}"]);
        }
    }

    private static T Json<T>(Dictionary<string, byte[]> files, string path)
    {
        try
        {
            return JsonSerializer.Deserialize<T>(files[path], PackJson.Options) ?? throw new PackFaultException([$"{path} is empty."]);
        }
        catch (JsonException fault)
        {
            throw new PackFaultException([$"{path} cannot be read at line {(fault.LineNumber ?? 0) + 1}: something is missing or of another kind than expected."]);
        }
    }

    private static bool IsSafe(string path) =>
        path.Length is > 0 and < 200 && !path.StartsWith('/') && !path.Contains('\\') && !path.Contains(':') && !path.Contains('\0') && path.Split('/').All(p => p.Length > 0 && p is not ("." or ".."));

    private static string Shown(string text) => new([.. text.Take(80).Select(c => char.IsControl(c) ? '?' : c)]);

    private static void Guard(bool holds, string fault)
    {
        if (!holds)
            throw new PackFaultException([fault]);
    }
}
