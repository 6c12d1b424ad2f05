using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;
using Meltwise.Casework.Intake;
using Meltwise.Casework.Recording;
using Meltwise.Storage;

namespace Meltwise.Bench;

/// <summary>Time and memory of the bench file: an intake of 100,000 rows (three hardness readings and an energy each), and what pages ask of such a bench.</summary>
internal static class BenchFileBench
{
    private const int Rows = 100_000;

    /// <summary>Runs once and writes a table.</summary>
    internal static void Run(TextWriter output)
    {
        string folder = Directory.CreateTempSubdirectory("meltwise-bench-").FullName;
        try
        {
            string table = Path.Combine(folder, "coupons.csv");
            WriteTable(table);
            output.WriteLine("# The bench file: time and memory");
            output.WriteLine();
            output.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"`dotnet run -c Release --project bench/Meltwise.Bench -- bench-file`, {DateTime.UtcNow:yyyy-MM-dd}, {RuntimeInformation.FrameworkDescription}, {Environment.ProcessorCount} cores. The command is the published program as a whole process, start-up included."));
            output.WriteLine();
            output.WriteLine("| what | wall time | processor time | asked for |");
            output.WriteLine("| --- | --- | --- | --- |");
            using IBench bench = BenchFile.Create(Path.Combine(folder, "own.meltwise"), isDemonstration: false);
            Line(output, "intake of 100,000 rows, read and stored", "5 s", () => IntakeRun.Store(bench, IntakePreview.OfFile(table), "bench"));
            WholeProcess(output, table, Path.Combine(folder, "whole.meltwise"));
            Warm(output, "coupons of two heats with readings", () => bench.CouponTable(new(["H3", "H200"])));
            Warm(output, "newest 8 readings", () => bench.LatestReadings(8));
            Warm(output, "trail of a coupon's readings", () => bench.Trail("reading", "H3/7"));
            Warm(output, "search", () => bench.Find("H3/7"));
            Warm(output, "all 100,000 coupons with readings", () => bench.CouponTable(new()));
            Warm(output, "card of the bench", () => bench.Card);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static void WholeProcess(TextWriter output, string table, string bench)
    {
        using Process intake = Process.Start(new ProcessStartInfo("dotnet", [CompareBench.Program(), "intake", table, "--bench", bench]) { RedirectStandardOutput = true, UseShellExecute = false })
            ?? throw new InvalidOperationException("dotnet did not start.");
        Task<string> said = intake.StandardOutput.ReadToEndAsync();
        Stopwatch watch = Stopwatch.StartNew();
        double before = CompareBench.ProcessorSecondsOfChildren();
        long peak = 0;
        while (!intake.WaitForExit(10))
        {
            intake.Refresh();
            peak = Math.Max(peak, intake.PeakWorkingSet64);
        }
        TimeSpan wall = watch.Elapsed;
        if (intake.ExitCode != 0) throw new InvalidOperationException($"intake ended with {intake.ExitCode}: {said.Result}");
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| `intake` of the same rows as a command | {wall.TotalMilliseconds:0} ms | {1000 * (CompareBench.ProcessorSecondsOfChildren() - before):0} ms | 5 s |"));
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| its largest working set | {peak / 1048576} MB | | 300 MB |"));
    }

    private static void Warm(TextWriter output, string what, Func<object> work)
    {
        work();
        Line(output, what, "", work);
    }

    private static void Line(TextWriter output, string what, string asked, Func<object> work)
    {
        TimeSpan before = Process.GetCurrentProcess().TotalProcessorTime;
        Stopwatch watch = Stopwatch.StartNew();
        work();
        TimeSpan wall = watch.Elapsed;
        TimeSpan processor = Process.GetCurrentProcess().TotalProcessorTime - before;
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {what} | {wall.TotalMilliseconds:0} ms | {processor.TotalMilliseconds:0} ms | {asked} |"));
    }

    private static void WriteTable(string path)
    {
        Random random = new(1);
        using StreamWriter writer = new(path);
        writer.WriteLine("heat,coupon,source,grade,route,orientation,geometry,treatment,load,hardness 1 [HRC],hardness 2 [HRC],hardness 3 [HRC],impact energy [J]");
        for (int i = 0; i < Rows; i++)
        {
            double hrc = 60 + (2 * random.NextDouble());
            writer.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"H{i / 250},{i % 250},S{i / 250 % 20},AISI M4,powder,L,unnotched 7×10×55,T{i / 250 % 5},L{i / 20},{hrc:0.0},{hrc + 0.1:0.0},{hrc - 0.1:0.0},{30 + (10 * random.NextDouble()):0.00}"));
        }
    }
}
