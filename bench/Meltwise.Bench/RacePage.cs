using System.Globalization;
using System.Runtime.InteropServices;
using System.Text;

namespace Meltwise.Bench;

/// <summary>Runs races and writes them as a page of Markdown with the versions that took part.</summary>
internal static class RacePage
{
    public static string Of(IReadOnlyList<IRace> races, string inputs)
    {
        StringBuilder page = new();
        page.AppendLine("# Races").AppendLine();
        page.AppendLine(CultureInfo.InvariantCulture, $"{DateTime.UtcNow:yyyy-MM-dd}, {RuntimeInformation.FrameworkDescription}, {RuntimeInformation.OSDescription}, {Environment.ProcessorCount} cores, load {Load()}. Both sides warm and in-process, medians, same inputs.");
        foreach (Baseline line in Baseline.Run("versions.R", inputs).Concat(Baseline.Run("versions.py", inputs))) page.AppendLine(CultureInfo.InvariantCulture, $"Baselines: {line.Name}.");
        page.AppendLine().AppendLine("| race | work | this program | fastest baseline | ratio | asked | same answer |").AppendLine("| --- | --- | --- | --- | --- | --- | --- |");
        StringBuilder all = new();
        foreach (IRace race in races)
        {
            Console.Error.WriteLine($"{race.Name} ...");
            race.Prepare(inputs);
            double ours = Stopclock.Median(race.Run);
            Baseline[] baselines = [.. race.Baselines.SelectMany(b => Baseline.Run(b, inputs))];
            Baseline? fastest = baselines.MinBy(b => b.Seconds);
            string ratio = fastest is null ? "" : $"{fastest.Seconds / ours:F1}×";
            page.AppendLine(CultureInfo.InvariantCulture, $"| {race.Name} | {race.Work} | {Milliseconds(ours)} | {(fastest is null ? "" : $"{fastest.Name} {Milliseconds(fastest.Seconds)}")} | {ratio} | {(race.Wanted is { } w ? $"{w:G2}×" : "")} | {Agreement(race, baselines)} |");
            foreach (Baseline b in baselines) all.AppendLine(CultureInfo.InvariantCulture, $"- {race.Name}: {b.Name} {Milliseconds(b.Seconds)}, {b.Seconds / ours:F1}× our {Milliseconds(ours)}");
        }
        return page.AppendLine().AppendLine("All baselines:").AppendLine().Append(all).ToString();
    }

    private static string Agreement(IRace race, Baseline[] baselines)
    {
        List<string> found = [];
        foreach ((string name, double value) in race.Answers)
            foreach (Baseline b in baselines)
                if (b.Fields.TryGetValue(name, out double theirs) && race.Allowed.TryGetValue(name, out double allowed))
                    found.Add(Math.Abs(value - theirs) <= allowed ? $"{name} {value:G8}" : $"**{name} {value:G8} against {theirs:G8}**");
        return found.Count == 0 ? string.Join(", ", race.Answers.Select(a => $"{a.Key} {a.Value:G6}")) : string.Join(", ", found.Distinct());
    }

    private static string Milliseconds(double seconds) => seconds >= 1 ? $"{seconds:F2} s" : $"{1000 * seconds:G3} ms";

    private static string Load() => File.Exists("/proc/loadavg") ? File.ReadAllText("/proc/loadavg").Split(' ')[0] : "unknown";
}
