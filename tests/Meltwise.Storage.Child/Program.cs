using System.Diagnostics;
using System.Globalization;
using Meltwise.Casework.Intake;
using Meltwise.Casework.Recording;
using Meltwise.Storage;

// The other process of the tests. "intake BENCH TABLE" brings a table onto a bench and says how long it took and how large it grew;
// "hold BENCH" keeps a write open until its input ends.
try
{
    using Bench bench = File.Exists(args[1]) ? BenchFile.Open(args[1]) : BenchFile.Create(args[1], isDemonstration: false);
    if (args[0] == "hold") Hold(bench);
    else Intake(bench, args[2]);
    return 0;
}
catch (BenchException e)
{
    Console.Error.WriteLine(e.Message);
    return 1;
}

static void Intake(Bench bench, string table)
{
    Stopwatch watch = Stopwatch.StartNew();
    Console.WriteLine("begin");
    IntakePreview preview = IntakePreview.OfFile(table);
    TimeSpan read = watch.Elapsed;
    Console.WriteLine("read");
    IntakeOutcome outcome = IntakeRun.Store(bench, preview, "child");
    using Process self = Process.GetCurrentProcess();
    Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
        $"stored {outcome.CouponRows} rows; read {read.TotalSeconds:F2} s; all {watch.Elapsed.TotalSeconds:F2} s; processor {self.TotalProcessorTime.TotalSeconds:F2} s; peak {self.PeakWorkingSet64 / 1048576} MB; {outcome.Message}"));
}

static void Hold(Bench bench) => bench.Commit("child", null, Waiting());

static IEnumerable<BenchChange> Waiting()
{
    yield return new BenchChange.PutSource(new("held", "Source A"));
    Console.WriteLine("holding");
    Console.ReadLine();
}
