using System.Diagnostics;
using Meltwise.Storage.Checking;
using Meltwise.Storage.Tests.Engines;
using Xunit;

namespace Meltwise.Storage.Tests.Surviving;

/// <summary>A process killed during an intake leaves the bench whole, with all of the file or nothing of it.</summary>
public sealed class KilledIntakeTests : IDisposable
{
    private const int Rows = 50_000;
    private const int Kills = 10;

    private readonly BenchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Ten_kills_at_random_moments_leave_all_or_nothing()
    {
        string table = _folder.File("coupons.csv");
        InventedTable.Write(table, Rows, wide: false);
        TimeSpan whole = TimeOfWholeIntake(table);
        string bench = NewBench("killed");
        Random random = new(7);
        for (int kill = 0; kill < Kills; kill++)
        {
            using (OtherProcess child = new("intake", bench, table))
            {
                Assert.Equal("begin", child.ReadLine());
                Thread.Sleep(whole * random.NextDouble());
                child.Kill();
            }
            if (HoldsAll(bench)) bench = NewBench($"killed{kill}");
        }
        // What was killed ten times still takes the file afterwards.
        using OtherProcess last = new("intake", bench, table);
        Assert.Equal(0, last.Finish().ExitCode);
        Assert.True(HoldsAll(bench));
    }

    private static bool HoldsAll(string path)
    {
        using Bench bench = BenchFile.Open(path);
        BenchFindings findings = bench.Check();
        Assert.True(findings.IsSound, string.Join("\n", findings.Faults));
        int coupons = bench.Card.Coupons;
        // One coupon was there before.
        Assert.True(coupons is 1 or Rows + 1, $"The bench holds {coupons} coupons.");
        Assert.Single(bench.Coupons("K17"));
        return coupons > 1;
    }

    private TimeSpan TimeOfWholeIntake(string table)
    {
        string bench = NewBench("whole");
        using OtherProcess child = new("intake", bench, table);
        Assert.Equal("begin", child.ReadLine());
        Stopwatch watch = Stopwatch.StartNew();
        Assert.Equal(0, child.Finish().ExitCode);
        return watch.Elapsed;
    }

    private string NewBench(string name)
    {
        string path = _folder.File(name + ".meltwise");
        using Bench bench = BenchFile.Create(path, isDemonstration: false);
        bench.Commit("A. Tester", null, [.. Invented.Heat(), Invented.Coupon("K17", "1")]);
        return path;
    }
}
