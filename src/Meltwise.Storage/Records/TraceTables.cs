using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Storage.Records;

/// <summary>Furnace traces, each with its readings and the file it came in.</summary>
internal static class TraceTables
{
    public static RecordTable<FurnaceTrace> FurnaceTraces { get; } = new("furnace trace", "furnace_trace_version", null, 1, ReasonRule.WhenAltered,
        [
            new("name"), new("load"), new("step"), new("channel"), new("set_c", Stored.Real), new("tolerance_c", Stored.Real), new("started_at"), new("points"), new("file_name"), new("sha256"),
            new("original"), new("set_aside"),
        ],
        t =>
        [
            t.Name, t.Load, t.Step, t.Channel, t.SetC, t.ToleranceC, t.StartedAt?.ToString("yyyy-MM-ddTHH:mm:ss.FFFFFFF", CultureInfo.InvariantCulture), Points(t), t.FileName, t.Sha256, t.Original, t.SetAside,
        ],
        c =>
        {
            (double[] minutes, double[] celsius) = ToPoints((string)c[7]!);
            return new()
            {
                Name = (string)c[0]!,
                Load = (string)c[1]!,
                Step = (string?)c[2],
                Channel = (string)c[3]!,
                SetC = (double)c[4]!,
                ToleranceC = (double)c[5]!,
                StartedAt = c[6] is string at ? DateTime.ParseExact(at, "yyyy-MM-ddTHH:mm:ss.FFFFFFF", CultureInfo.InvariantCulture) : null,
                Minutes = minutes,
                TemperatureC = celsius,
                FileName = (string?)c[8],
                Sha256 = (string)c[9]!,
                Original = (string?)c[10],
                SetAside = (string?)c[11],
            };
        });

    // Minutes and °C in turn, parted by spaces, each in the shortest form that reads back to it.
    private static string Points(FurnaceTrace trace) =>
        string.Join(' ', trace.Minutes.Zip(trace.TemperatureC, (m, c) => string.Create(CultureInfo.InvariantCulture, $"{m:R} {c:R}")));

    private static (double[] Minutes, double[] Celsius) ToPoints(string text)
    {
        double[] all = [.. StoredForms.ToSeries(text)!];
        return ([.. all.Where((_, i) => i % 2 == 0)], [.. all.Where((_, i) => i % 2 == 1)]);
    }
}
