using System.Diagnostics;
using System.Text.Json;

namespace Meltwise.Bench;

/// <summary>Runs a baseline program and reads its lines of JSON: name, seconds (median of warm runs inside that program) and result fields.</summary>
internal sealed record Baseline(string Name, double Seconds, IReadOnlyDictionary<string, double> Fields)
{
    public static IReadOnlyList<Baseline> Run(string command, string inputs)
    {
        string[] words = command.Replace("{inputs}", inputs, StringComparison.Ordinal).Split(' ');
        string script = Path.Combine(Root, "bench", "baselines", words[0]);
        string interpreter = script.EndsWith(".R", StringComparison.Ordinal) ? "Rscript" : "/usr/bin/python3";
        ProcessStartInfo start = new(interpreter, [script, .. words[1..]]) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        try
        {
            using Process process = Process.Start(start)!;
            Task<string> error = process.StandardError.ReadToEndAsync();
            string output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            if (process.ExitCode != 0) Console.Error.WriteLine($"{command}: exit {process.ExitCode}. {error.Result.Trim()}");
            return [.. output.Split('\n').Where(l => l.StartsWith('{')).Select(Parse)];
        }
        catch (System.ComponentModel.Win32Exception)
        {
            Console.Error.WriteLine($"{command}: {interpreter} is not installed, so this baseline is left out.");
            return [];
        }
    }

    /// <summary>Nearest folder above with the solution file.</summary>
    public static string Root { get; } = FindRoot();

    private static string FindRoot()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Meltwise.slnx"))) return folder.FullName;
        throw new DirectoryNotFoundException($"No Meltwise.slnx above {AppContext.BaseDirectory}. Run the races from a checkout.");
    }

    private static Baseline Parse(string line)
    {
        using JsonDocument document = JsonDocument.Parse(line);
        Dictionary<string, double> fields = document.RootElement.EnumerateObject().Where(p => p.Value.ValueKind == JsonValueKind.Number).ToDictionary(p => p.Name, p => p.Value.GetDouble());
        return new(document.RootElement.GetProperty("name").GetString()!, fields["seconds"], fields);
    }
}
