using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;

namespace Meltwise.Bench;

/// <summary>The command <c>compare</c> as a whole process, start-up included: 18 coupons in two lots and 5,000 coupons of history, read from tables and judged at equal hardness and by source.</summary>
internal static class CompareBench
{
    private const int Runs = 11, Heats = 500, CouponsOfHeat = 10, CouponsOfLot = 9;

    /// <summary>Runs the published program of this repository and writes a table.</summary>
    internal static void Run(TextWriter output)
    {
        string program = Program();
        string folder = Directory.CreateTempSubdirectory("meltwise-bench-").FullName;
        try
        {
            string lots = Path.Combine(folder, "lots.csv"), history = Path.Combine(folder, "history.csv");
            WriteTables(lots, history);
            output.WriteLine("# compare as a whole process");
            output.WriteLine();
            output.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"`dotnet run -c Release --project bench/Meltwise.Bench -- compare`, {DateTime.UtcNow:yyyy-MM-dd}, {RuntimeInformation.FrameworkDescription}, {RuntimeInformation.OSDescription}, {Environment.ProcessorCount} cores, load {Load()}."));
            output.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"Published build, {Runs} processes each after one that is not counted; {2 * CouponsOfLot} coupons against {Heats * CouponsOfHeat} rows of history in {Heats} heats, drawn by seed. Where the load exceeds the cores, wall times hold the waiting for other work; the processor time is what the command itself takes."));
            output.WriteLine();
            output.WriteLine("| command | median | fastest | slowest | processor time, mean | asked for |");
            output.WriteLine("| --- | --- | --- | --- | --- | --- |");
            Line(output, "`--version`, start-up alone", "", [program, "--version"]);
            string[] plain = [program, "compare", lots, "--reference", "K17", "--candidate", "M03", "--property", "impact energy", "--margin", "15%", "--json"];
            Line(output, "`compare`, no history", "", plain);
            Line(output, "`compare --history`, 5,000 rows", "1 s", [.. plain, "--history", history]);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>The published program of this repository.</summary>
    /// <exception cref="FileNotFoundException">It was not published yet.</exception>
    internal static string Program()
    {
        string program = Path.Combine(Directory.GetCurrentDirectory(), "artifacts", "meltwise", "meltwise.dll");
        return File.Exists(program) ? program : throw new FileNotFoundException($"The published program {program} is not there. Run ./meltwise --help once, and this from the root of the repository.");
    }

    private static void Line(TextWriter output, string what, string asked, string[] arguments)
    {
        double[] seconds = new double[Runs];
        Once(arguments);
        double before = ProcessorSecondsOfChildren();
        for (int i = 0; i < Runs; i++) seconds[i] = Once(arguments);
        double processor = (ProcessorSecondsOfChildren() - before) / Runs;
        Array.Sort(seconds);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {what} | {1000 * seconds[Runs / 2]:0} ms | {1000 * seconds[0]:0} ms | {1000 * seconds[^1]:0} ms | {(processor > 0 ? $"{1000 * processor:0} ms" : "not known")} | {asked} |"));
    }

    private static double Once(string[] arguments)
    {
        ProcessStartInfo start = new("dotnet", arguments) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        Stopwatch watch = Stopwatch.StartNew();
        using Process process = Process.Start(start) ?? throw new InvalidOperationException("dotnet did not start.");
        Task<string> said = process.StandardOutput.ReadToEndAsync(), wrong = process.StandardError.ReadToEndAsync();
        process.WaitForExit();
        double seconds = watch.Elapsed.TotalSeconds;
        if (process.ExitCode != 0 || said.Result.Length == 0) throw new InvalidOperationException($"{string.Join(' ', arguments)} ended with {process.ExitCode}: {wrong.Result}");
        return seconds;
    }

    // proc(5): cutime and cstime are the 16th and 17th fields of stat, in ticks of 1/100 s; the second field is a name in brackets that may hold spaces.
    internal static double ProcessorSecondsOfChildren()
    {
        const string place = "/proc/self/stat";
        if (!File.Exists(place)) return 0;
        string text = File.ReadAllText(place);
        string[] fields = text[(text.LastIndexOf(')') + 2)..].Split(' ');
        return (double.Parse(fields[13], CultureInfo.InvariantCulture) + double.Parse(fields[14], CultureInfo.InvariantCulture)) / 100;
    }

    // Heats on a line of -0.09 per HRC with 5 % between heats and 12 % between coupons.
    private static void WriteTables(string lots, string history)
    {
        const string headings = "heat,coupon,source,grade,route,orientation,geometry,treatment,temper family,load,hardness [HRC],impact energy [J]";
        Random random = new(20);
        using (StreamWriter writer = new(history))
        {
            writer.WriteLine(headings);
            for (int h = 0; h < Heats; h++) WriteHeat(writer, $"H{h:D3}", $"S{h % 5}", CouponsOfHeat, 60 + (4 * random.NextDouble()), random);
        }
        using (StreamWriter writer = new(lots))
        {
            writer.WriteLine(headings);
            WriteHeat(writer, "K17", "S0", CouponsOfLot, 62.0, random);
            WriteHeat(writer, "M03", "S1", CouponsOfLot, 62.6, random);
        }
    }

    private static void WriteHeat(StreamWriter writer, string heat, string source, int coupons, double hrc, Random random)
    {
        double mean = 3.5 - (0.09 * (hrc - 62)) + (0.05 * Gaussian(random));
        for (int i = 1; i <= coupons; i++)
            writer.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{heat},{heat}-{i:D2},{source},AISI M4,powder,L,unnotched 7×10×55,T1,high,F{i % 3},{hrc + (0.2 * Gaussian(random)):0.0},{Math.Exp(mean + (0.12 * Gaussian(random))):0.0}"));
    }

    private static double Gaussian(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static string Load() => File.Exists("/proc/loadavg") ? File.ReadAllText("/proc/loadavg").Split(' ')[0] : "unknown";
}
