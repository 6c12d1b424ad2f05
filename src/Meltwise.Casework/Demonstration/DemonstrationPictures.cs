using System.Globalization;
using Meltwise.Casework.Picturing;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using NetVips;

namespace Meltwise.Casework.Demonstration;

/// <summary>Draws invented micrographs of the two heats of the first enquiry, keeps them, measures them blind and opens the key.</summary>
/// <remarks>True values: <see cref="Share"/> of the area in both heats; a median diameter of <see cref="ReferenceMedianUm"/> and <see cref="CandidateMedianUm"/> µm. Drawn when the bench is made, not shipped.</remarks>
public static class DemonstrationPictures
{
    /// <summary>Seed of the drawing; apart from the one of the readings, so that no value of a reading depends on it.</summary>
    public const int Seed = 20217;

    /// <summary>Share of the area that particles cover, both heats.</summary>
    public const double Share = 0.13;

    /// <summary>Standard deviation of ln(share) between mounts.</summary>
    public const double MountSd = 0.02;

    /// <summary>Standard deviation of ln(share) between fields of a mount.</summary>
    public const double FieldSd = 0.04;

    /// <summary>Median diameter in the reference heat, µm.</summary>
    public const double ReferenceMedianUm = 1.05;

    /// <summary>Median diameter in the candidate heat, µm.</summary>
    public const double CandidateMedianUm = 1.19;

    /// <summary>Standard deviation of ln(diameter), both heats.</summary>
    public const double LogSd = 0.28;

    private const string EnquiryName = "Q-07";
    private const int Width = 720, Height = 540, Mounts = 3, FieldsOfMount = 3;
    private const double MicrometresPerPixel = 0.06, MillimetresPerMicrometre = 1e-3;

    /// <summary>Adds the pictures, the question, the measurement and the opened key.</summary>
    /// <param name="bench">The demonstration bench, its other records in place.</param>
    public static void AddTo(IBench bench)
    {
        Enquiry enquiry = bench.FindEnquiry(EnquiryName)!;
        NormalDraws draws = new(Seed);
        DateTime taken = enquiry.StagesUtc[EnquiryStage.Treated].AddDays(4);
        List<BenchChange> pictures = [];
        foreach ((string heat, double medianUm, string mount) in ((string, double, string)[])[(enquiry.ReferenceHeats[0], ReferenceMedianUm, "A"), (enquiry.CandidateHeats[0], CandidateMedianUm, "B")])
            for (int m = 1; m <= Mounts; m++)
            {
                double ofMount = draws.Next(0, MountSd);
                for (int field = 1; field <= FieldsOfMount; field++)
                {
                    double share = Share * Math.Exp(ofMount + draws.Next(0, FieldSd));
                    byte[] file = Png(new MadeMicrograph(Width, Height, draws).Draw(share, medianUm / MicrometresPerPixel, LogSd));
                    pictures.Add(new BenchChange.PutPicture(Record(pictures.Count + 1, heat, string.Create(CultureInfo.InvariantCulture, $"{mount}{m}"), field, bench.KeepOriginal(new MemoryStream(file)), DateOnly.FromDateTime(taken))));
                }
            }
        bench.Commit(DemonstrationBench.Author, DemonstrationBench.Reason, pictures);
        Conclude(bench, taken.AddHours(3));
    }

    private static void Conclude(IBench bench, DateTime askedAtUtc)
    {
        Hand At(double hours) => new(DemonstrationBench.Author, new Stopped(askedAtUtc.AddHours(hours)));
        foreach (Picture picture in bench.Pictures()) MeasureKept.Keep(bench, picture, MeasureKept.Measure(bench, picture, MeasureKept.SettingsOf(bench, picture)), At(-1));
        AskStructure ask = new(bench);
        ask.Ask(EnquiryName, 0.80, 1.25, "three fields of each mount at fixed stage positions, chosen before looking", [], null, At(0));
        Enquiry asked = bench.FindEnquiry(EnquiryName)!;
        bench.Commit(DemonstrationBench.Author, null, [StructureComparison.Keep(asked, StructureComparison.Measure(bench, asked, askedAtUtc.AddHours(2)))]);
        ask.Open(EnquiryName, At(2.5));
    }

    private static Picture Record(int number, string heat, string mount, int field, string sha256, DateOnly takenOn) => new()
    {
        Name = string.Create(CultureInfo.InvariantCulture, $"P-{number}"),
        Heat = heat,
        Mount = mount,
        Field = field,
        Plane = "L",
        Magnification = "1000×",
        Etch = "unetched",
        Microscope = "none: drawn by the program",
        MicrometresPerPixel = MicrometresPerPixel,
        ScaleSource = "resolution tags of the file",
        Sha256 = sha256,
        FileName = string.Create(CultureInfo.InvariantCulture, $"made-{heat}-{mount}-{field}.png"),
        Format = "PNG",
        Width = Width,
        Height = Height,
        TakenOn = takenOn,
        Notes = "Drawn for the demonstration; no steel was seen.",
    };

    private static byte[] Png(byte[] grey)
    {
        double perMillimetre = 1 / (MicrometresPerPixel * MillimetresPerMicrometre);
        using Image bare = Image.NewFromMemory(grey, Width, Height, 1, Enums.BandFormat.Uchar);
        using Image scaled = bare.Copy(xres: perMillimetre, yres: perMillimetre);
        return scaled.WriteToBuffer(".png");
    }

    private sealed class Stopped(DateTime utc) : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => new(utc, TimeSpan.Zero);
    }
}
