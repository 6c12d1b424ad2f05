using System.Diagnostics;
using System.Globalization;
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
            output.WriteLine("| what | wall time | processor time | asked for |");
            output.WriteLine("| --- | --- | --- | --- |");
            using IBench bench = BenchFile.Create(Path.Combine(folder, "own.meltwise"), isDemonstration: false);
            Line(output, "intake of 100,000 rows, read and stored", "5 s", () => IntakeRun.Store(bench, IntakePreview.OfFile(table), "bench"));
            using (Process self = Process.GetCurrentProcess())
                output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| largest working set by then | {self.PeakWorkingSet64 / 1048576} MB | | 300 MB |"));
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
