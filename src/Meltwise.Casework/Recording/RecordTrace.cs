using System.Globalization;
using System.IO.Compression;
using Meltwise.Casework.Intake;
using Meltwise.Domain;

namespace Meltwise.Casework.Recording;

/// <summary>What a person says of a furnace trace that is brought in.</summary>
/// <param name="Load">The furnace load, as the coupons name it.</param>
/// <param name="SetC">Set value of the step, °C.</param>
/// <param name="ToleranceC">By how much the load may differ from it, °C.</param>
/// <param name="Step">Step of the treatment; null when not said.</param>
/// <param name="Channel">Heading of the temperature column to read; null takes the only one, or the one of the load.</param>
public sealed record TraceDetails(string Load, double SetC, double ToleranceC = RecordTrace.UsualToleranceC, string? Step = null, string? Channel = null);

/// <summary>Records the trace of a furnace load, with the file it came in, or sets one aside.</summary>
public sealed class RecordTrace(IBench bench)
{
    /// <summary>Tolerance where none is said, °C; common practice, no source.</summary>
    public const double UsualToleranceC = 10;

    private const double LowestC = -273, HighestC = 1400, WidestToleranceC = 50;
    private const int LongestFileName = 120;

    /// <summary>Reads the file without storing anything.</summary>
    /// <param name="details">What is said of it.</param>
    /// <param name="fileName">Name of the file.</param>
    /// <param name="content">Its bytes.</param>
    /// <returns>The trace as it would be stored, or what stands against it.</returns>
    public Outcome<FurnaceTrace> Look(TraceDetails details, string fileName, byte[] content)
    {
        string[] faults = [.. FaultsOf(details)];
        if (faults.Length > 0) return Outcome<FurnaceTrace>.Refused(faults);
        string shown = NameOf(fileName);
        (FurnaceReadings? readings, IReadOnlyList<IntakeFault> wrong) = FurnaceTraceFile.Read(shown, content, details.Channel);
        if (readings is null) return Outcome<FurnaceTrace>.Refused([.. wrong.Select(f => f.ToString())]);
        IReadOnlyList<FurnaceTrace> there = bench.FurnaceTraces();
        FurnaceTrace trace = Make(string.Create(CultureInfo.InvariantCulture, $"T-{1 + there.Select(t => NumberOf(t.Name)).DefaultIfEmpty(0).Max()}"), details, shown, content, readings);
        return there.FirstOrDefault(t => t.SetAside is null && t.Sha256 == trace.Sha256 && t.Load == trace.Load && t.Step == trace.Step && t.Channel == trace.Channel) is { } twin
            ? Outcome<FurnaceTrace>.Refused($"The same file is trace {twin.Name} of load {twin.Load} already. Nothing was added.")
            : Outcome<FurnaceTrace>.Stored(trace, [.. readings.Notes.Select(Finding.Note), .. FurnaceTraceWords.Doubts(trace, TreatmentsIn(trace.Load)).Select(Finding.Warning)]);
    }

    /// <summary>Stores it.</summary>
    public Outcome<FurnaceTrace> Run(TraceDetails details, string fileName, byte[] content, Hand hand)
    {
        Outcome<FurnaceTrace> looked = Look(details, fileName, content);
        if (looked.Value is { } trace) bench.Commit(hand.By, null, [new BenchChange.PutFurnaceTrace(trace)]);
        return looked;
    }

    /// <summary>Sets a trace aside, with a reason: it stays readable and counts no more.</summary>
    public Outcome<FurnaceTrace> SetAside(string name, string reason, Hand hand)
    {
        if (bench.FurnaceTraces().FirstOrDefault(t => t.Name == name) is not { } trace) return Outcome<FurnaceTrace>.Refused($"There is no trace {name} on this bench.");
        if (string.IsNullOrWhiteSpace(reason)) return Outcome<FurnaceTrace>.Refused($"Trace {name} is set aside with a reason only.");
        FurnaceTrace aside = trace with { SetAside = reason.Trim() };
        bench.Commit(hand.By, reason, [new BenchChange.PutFurnaceTrace(aside)]);
        return Outcome<FurnaceTrace>.Stored(aside, []);
    }

    /// <summary>The file of a trace as it came; null where it is not kept, or not readable any more.</summary>
    public static byte[]? Unpacked(FurnaceTrace trace)
    {
        if (trace.Original is not { } packed) return null;
        try
        {
            using GZipStream open = new(new MemoryStream(Convert.FromBase64String(packed)), CompressionMode.Decompress);
            using MemoryStream content = new();
            byte[] part = new byte[1 << 16];
            for (int read = open.Read(part); read > 0; read = open.Read(part))
            {
                content.Write(part, 0, read);
                if (content.Length > FurnaceTraceFile.MostBytes) return null;
            }
            return content.ToArray();
        }
        catch (Exception e) when (e is FormatException or InvalidDataException)
        {
            return null;
        }
    }

    /// <summary>True where the file kept with a trace is the one it came in, and where none is kept.</summary>
    public static bool IsAsItCame(FurnaceTrace trace) => trace.Original is null || (Unpacked(trace) is { } content && FurnaceTraceFile.DigestOf(content) == trace.Sha256);

    /// <summary>What is wrong with a trace that came from elsewhere, in words; nothing when it can be drawn and its soak read.</summary>
    public static IEnumerable<string> FaultsOf(FurnaceTrace trace)
    {
        if (trace.Minutes is not { Count: >= 2 } minutes || trace.TemperatureC is not { } celsius || celsius.Count != minutes.Count) yield return "expected two readings or more, each with its time.";
        else if (minutes.Zip(minutes.Skip(1)).Any(p => !(p.Second > p.First)) || !minutes.Concat(celsius).All(double.IsFinite)) yield return "expected finite readings at rising times.";
        if (!(trace.ToleranceC > 0) || !double.IsFinite(trace.SetC)) yield return "expected a set value and a tolerance above 0.";
        if (!IsAsItCame(trace)) yield return "the file it came in is not the one of its SHA-256.";
    }

    /// <summary>The record of a trace that was read.</summary>
    internal static FurnaceTrace Make(string name, TraceDetails details, string fileName, byte[] content, FurnaceReadings readings) => new()
    {
        Name = name,
        Load = details.Load.Trim(),
        Step = string.IsNullOrWhiteSpace(details.Step) ? null : details.Step.Trim(),
        Channel = readings.Channel,
        SetC = details.SetC,
        ToleranceC = details.ToleranceC,
        StartedAt = readings.StartedAt,
        Minutes = readings.Minutes,
        TemperatureC = readings.TemperatureC,
        FileName = fileName,
        Sha256 = FurnaceTraceFile.DigestOf(content),
        Original = Packed(content),
    };

    private static string Packed(byte[] content)
    {
        using MemoryStream packed = new();
        using (GZipStream closing = new(packed, CompressionLevel.Optimal, leaveOpen: true)) closing.Write(content);
        return Convert.ToBase64String(packed.ToArray());
    }

    private IEnumerable<string> FaultsOf(TraceDetails details)
    {
        if (string.IsNullOrWhiteSpace(details.Load))
        {
            yield return "A trace belongs to a furnace load. Name it as the coupons do.";
        }
        else
        {
            string[] loads = [.. bench.Coupons().Select(c => c.Load).OfType<string>().Distinct().Order(StringComparer.Ordinal)];
            if (!loads.Contains(details.Load.Trim()))
                yield return $"No coupon of the bench stands in load {details.Load.Trim()}. {(loads.Length == 0 ? "No coupon names its load yet." : $"Loads on the bench: {string.Join(", ", loads.Take(12))}{(loads.Length > 12 ? ", ..." : "")}.")}";
        }
        if (details.SetC is not (>= LowestC and <= HighestC)) yield return string.Create(CultureInfo.InvariantCulture, $"A set value of {details.SetC:0.#} °C was given; expected {LowestC:0} to {HighestC:0} °C.");
        if (details.ToleranceC is not (> 0 and <= WidestToleranceC)) yield return string.Create(CultureInfo.InvariantCulture, $"A tolerance of {details.ToleranceC:0.#} °C was given; expected more than 0 and up to {WidestToleranceC:0} °C.");
    }

    private IReadOnlyList<Treatment> TreatmentsIn(string load)
    {
        HashSet<string> names = [.. bench.Coupons().Where(c => c.Load == load).Select(c => c.Treatment).OfType<string>()];
        return [.. bench.Treatments().Where(t => names.Contains(t.Name))];
    }

    private static int NumberOf(string name) => name.StartsWith("T-", StringComparison.Ordinal) && int.TryParse(name.AsSpan(2), NumberStyles.None, CultureInfo.InvariantCulture, out int n) ? n : 0;

    // A name from elsewhere may hold a path or signs that a terminal obeys.
    private static string NameOf(string fileName)
    {
        string name = new([.. Path.GetFileName(fileName.Replace('\\', '/')).Where(c => !char.IsControl(c))]);
        return name.Length == 0 ? "unnamed" : name.Length <= LongestFileName ? name : name[..LongestFileName];
    }
}
