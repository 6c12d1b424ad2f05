using System.Globalization;
using System.Text;
using Meltwise.Casework.Intake;
using Meltwise.Casework.Recording;

namespace Meltwise.Casework.Demonstration;

/// <summary>Furnace traces of the two loads of Q-09, drawn as straight lines and written as a recorder would; the second load overshoots. Invented; nothing else depends on them.</summary>
internal static class DemonstrationTraces
{
    private const double EveryMin = 0.5;
    private static readonly DateTime s_start = new(2026, 6, 29, 9, 0, 0);

    // Minutes and °C at the corners: two preheats, the hardening temperature, the quench.
    private static readonly (double Minute, double Celsius)[] s_first = [(0, 26), (30, 848), (45, 851), (55, 1049), (60, 1050), (67, 1129), (70.5, 1131), (72.5, 240), (80, 44)];
    private static readonly (double Minute, double Celsius)[] s_second = [(0, 27), (30, 849), (45, 850), (55, 1050), (60, 1051), (66, 1142), (67.5, 1132), (69.5, 1130), (71.5, 235), (80, 43)];

    /// <summary>Both traces.</summary>
    public static IEnumerable<BenchChange> All =>
        new[] { ("T-1", "Q-09/1", s_first), ("T-2", "Q-09/2", s_second) }.Select(t => new BenchChange.PutFurnaceTrace(Made(t.Item1, t.Item2, t.Item3)));

    private static Domain.FurnaceTrace Made(string name, string load, (double Minute, double Celsius)[] corners)
    {
        string file = $"invented-{load.Replace('/', '-')}.csv";
        byte[] content = Encoding.UTF8.GetBytes(Text(corners));
        return RecordTrace.Make(name, new(load, 1130, RecordTrace.UsualToleranceC, "austenitize"), file, content, FurnaceTraceFile.Read(file, content).Readings!);
    }

    private static string Text((double Minute, double Celsius)[] corners)
    {
        StringBuilder text = new("time,load [°C]\n");
        for (double minute = 0; minute <= corners[^1].Minute; minute += EveryMin)
        {
            int i = Math.Max(1, Array.FindIndex(corners, c => c.Minute >= minute));
            (double from, double to) = (corners[i - 1].Minute, corners[i].Minute);
            double celsius = corners[i - 1].Celsius + ((corners[i].Celsius - corners[i - 1].Celsius) * (minute - from) / (to - from));
            text.Append(CultureInfo.InvariantCulture, $"{s_start.AddMinutes(minute):yyyy-MM-dd HH:mm:ss},{celsius:0.0}\n");
        }
        return text.ToString();
    }
}
