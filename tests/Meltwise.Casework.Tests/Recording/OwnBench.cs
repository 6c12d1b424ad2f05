using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Storage;

namespace Meltwise.Casework.Tests.Recording;

/// <summary>A bench in a file of its own with two invented heats, for one test. The clock moves a minute at every look.</summary>
public abstract class OwnBench : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("meltwise-casework-").FullName;

    protected OwnBench()
    {
        Bench = BenchFile.Create(Path.Combine(_folder, "own.meltwise"), isDemonstration: false);
        Bench.Commit("A. Tester", null, [
            new BenchChange.PutSource(new("Nord", "Source A")), new BenchChange.PutSource(new("Sued", "Source B")), new BenchChange.PutGrade(new("AISI M4")),
            new BenchChange.PutHeat(new("K17", "Nord", "AISI M4", "powder")), new BenchChange.PutHeat(new("M03", "Sued", "AISI M4", "powder")),
            .. from heat in new[] { "K17", "M03" } from i in Enumerable.Range(1, 3) select new BenchChange.PutCoupon(new(heat, $"{i}", "L", "unnotched 7×10×55")),
        ]);
    }

    internal Bench Bench { get; }

    internal Hand Hand { get; } = new("A. Tester", new Minutes());

    public void Dispose()
    {
        Bench.Dispose();
        Directory.Delete(_folder, recursive: true);
        GC.SuppressFinalize(this);
    }

    protected static string Text<T>(Outcome<T> outcome)
        where T : class => string.Join("\n", outcome.Findings.Select(f => f.Text));

    private sealed class Minutes : TimeProvider
    {
        private DateTimeOffset _now = new(2026, 5, 6, 7, 0, 0, TimeSpan.Zero);

        public override DateTimeOffset GetUtcNow() => _now = _now.AddMinutes(1);
    }
}
