using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Imaging.Calibration;
using Meltwise.Imaging.Reading;

namespace Meltwise.Casework.Picturing;

/// <summary>A file that is to be kept as a picture.</summary>
/// <param name="Path">Where it lies on this machine.</param>
/// <param name="FileName">Its name as the person knows it.</param>
public sealed record BroughtPicture(string Path, string FileName);

/// <summary>What is the same for all pictures brought at once. Null means unknown.</summary>
/// <param name="Heat">Heat they show.</param>
/// <param name="Coupon">Coupon within the heat.</param>
/// <param name="Mount">Mount.</param>
/// <param name="FirstField">Number of the first field; the others follow. Null leaves fields without number.</param>
/// <param name="Plane">Plane of the section.</param>
/// <param name="Magnification">Magnification.</param>
/// <param name="Etch">Etch.</param>
/// <param name="Microscope">Microscope and objective.</param>
/// <param name="MicrometresPerPixel">Size of a pixel as typed; null takes the file's resolution tags.</param>
/// <param name="TakenOn">Day they were taken.</param>
public sealed record PictureDetails(
    string Heat, string? Coupon = null, string? Mount = null, int? FirstField = null, string? Plane = null, string? Magnification = null, string? Etch = null, string? Microscope = null,
    double? MicrometresPerPixel = null, DateOnly? TakenOn = null);

/// <summary>Keeps pictures of a heat on the bench: the originals by their digest, a record of each. All of them, or none.</summary>
public sealed class KeepPictures(IBench bench)
{
    private const int LongestFileName = 120;

    /// <summary>Keeps the files.</summary>
    /// <param name="files">The files, in the order of their fields.</param>
    /// <param name="details">What they show.</param>
    /// <param name="hand">Who.</param>
    public Outcome<IReadOnlyList<Picture>> Run(IReadOnlyList<BroughtPicture> files, PictureDetails details, Hand hand)
    {
        string[] faults = [.. FaultsOf(files, details)];
        if (faults.Length > 0) return Outcome<IReadOnlyList<Picture>>.Refused(faults);
        IReadOnlyList<Picture> there = bench.Pictures();
        int next = 1 + there.Select(p => NumberOf(p.Name)).DefaultIfEmpty(0).Max();
        List<Picture> pictures = [];
        foreach (BroughtPicture file in files)
        {
            try
            {
                int? field = details.FirstField + pictures.Count;
                using MicrographFile read = PictureReader.Open(file.Path);
                Picture picture = Record(read, file.FileName, details, field, string.Create(CultureInfo.InvariantCulture, $"P-{next++}"));
                if (there.Concat(pictures).FirstOrDefault(p => p.Sha256 == picture.Sha256) is { } twin)
                    return Outcome<IReadOnlyList<Picture>>.Refused($"{picture.FileName} is the same file as picture {twin.Name} of heat {twin.Heat} ({twin.FileName}). A field counts once.");
                pictures.Add(picture);
            }
            catch (UnreadablePictureException fault)
            {
                return Outcome<IReadOnlyList<Picture>>.Refused($"{NameOf(file.FileName)} is no picture that can be read: found {fault.Found}; expected {fault.Expected}.");
            }
        }
        foreach (BroughtPicture file in files)
        {
            using FileStream content = File.OpenRead(file.Path);
            bench.KeepOriginal(content);
        }
        bench.Commit(hand.By, null, pictures.Select(p => new BenchChange.PutPicture(p)));
        return Outcome<IReadOnlyList<Picture>>.Stored(pictures, NotesOn(pictures));
    }

    private IEnumerable<string> FaultsOf(IReadOnlyList<BroughtPicture> files, PictureDetails details)
    {
        if (files.Count == 0) yield return "No file was chosen.";
        if (bench.Heats().All(h => h.Name != details.Heat)) yield return $"Heat {details.Heat} is not on this bench. Record it first.";
        else if (details.Coupon is { } coupon && bench.Coupons(details.Heat).All(c => c.Name != coupon)) yield return $"Heat {details.Heat} has no coupon {coupon} on this bench. Record it first, or leave the coupon empty.";
        if (details.FirstField is < 1) yield return $"Field {details.FirstField}: expected a number from 1.";
        if (details.MicrometresPerPixel is { } scale && !(scale > 1e-6 && scale < 1e4)) yield return "The scale lies between 0.000001 and 10000 µm per pixel.";
    }

    private static IEnumerable<Finding> NotesOn(List<Picture> pictures)
    {
        string[] unscaled = [.. pictures.Where(p => p.MicrometresPerPixel is null).Select(p => p.Name)];
        if (unscaled.Length > 0) yield return Finding.Note($"Without a scale: {string.Join(", ", unscaled)}. Sizes are in pixels until one is given.");
        if (pictures.Any(p => p.Format == "JPEG")) yield return Finding.Note("JPEG loses detail at edges: keep the microscope's own TIFF or PNG where there is one.");
    }

    private static Picture Record(MicrographFile read, string fileName, PictureDetails details, int? field, string name)
    {
        (double? scale, string? source) = Scale(read, details);
        return new()
        {
            Name = name,
            Heat = details.Heat,
            Coupon = details.Coupon,
            Mount = details.Mount,
            Field = field,
            Plane = details.Plane,
            Magnification = details.Magnification,
            Etch = details.Etch,
            Microscope = details.Microscope,
            MicrometresPerPixel = scale,
            ScaleSource = source,
            Sha256 = read.Sha256,
            FileName = NameOf(fileName),
            Format = read.Metadata.Format,
            Width = read.Metadata.Width,
            Height = read.Metadata.Height,
            TakenOn = details.TakenOn,
        };
    }

    // The same order as a measurement takes, without its notes: what was typed, the tags, the bar as read; tags and bar that disagree give none.
    private static (double? MicrometresPerPixel, string? Source) Scale(MicrographFile read, PictureDetails details)
    {
        if (details.MicrometresPerPixel is { } typed) return (typed, "typed");
        PictureScale found = PictureScale.Of(read);
        return found.MicrometresPerPixel is { } scale ? (scale, found.Source) : (null, null);
    }

    private static int NumberOf(string name) => name.StartsWith("P-", StringComparison.Ordinal) && int.TryParse(name.AsSpan(2), NumberStyles.None, CultureInfo.InvariantCulture, out int n) ? n : 0;

    // A name from elsewhere may hold a path or signs that a terminal obeys.
    private static string NameOf(string fileName)
    {
        string name = new([.. Path.GetFileName(fileName.Replace('\\', '/')).Where(c => !char.IsControl(c))]);
        return name.Length == 0 ? "unnamed" : name.Length <= LongestFileName ? name : name[..LongestFileName];
    }
}
