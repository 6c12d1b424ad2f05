using System.Text;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Recording;

/// <summary>A furnace trace on a bench: whose load it is, what is doubted, what is kept. Figures are invented.</summary>
public sealed class RecordTraceTests : OwnBench
{
    private static readonly byte[] s_file = Encoding.UTF8.GetBytes("time [min],load [°C]\n0,930\n20,1130\n40,1130\n50,630\n");

    private RecordTrace Recording
    {
        get
        {
            Bench.Commit("A", null,
            [
                new BenchChange.PutTreatment(new("punch", [new TreatmentStep.Austenitize(1130, 30), new TreatmentStep.Quench("oil", null)])),
                new BenchChange.PutCoupon(new("K17", "1", "L", "unnotched 7×10×55", "punch", "26-07/a")),
            ]);
            return new(Bench);
        }
    }

    [Fact]
    public void A_trace_is_kept_with_its_file_and_said_against_the_treatment()
    {
        Outcome<FurnaceTrace> outcome = Recording.Run(new("26-07/a", 1130, 10, "austenitize"), "C:\\logs\\run 7.csv", s_file, Hand);
        Assert.Equal("The treatment sets 30 min at 1130 °C; the trace has 21.2 min.", Text(outcome));
        FurnaceTrace kept = Assert.Single(Bench.FurnaceTraces("26-07/a"));
        Assert.Equal(("T-1", "run 7.csv", "load [°C]"), (kept.Name, kept.FileName, kept.Channel));
        Assert.Equal(s_file, RecordTrace.Unpacked(kept));
        Assert.Equal("austenitize at 1130 ± 10 °C: 21.2 min at temperature, highest 1130 °C", FurnaceTraceWords.Summary(kept));
        Assert.Empty(Bench.FurnaceTraces("another"));
        Assert.Empty(Bench.Check().Faults);
        Assert.DoesNotContain("1130 40", Bench.Trail("furnace trace", "T-1")[0].Became!, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_file_is_kept_once_until_it_is_set_aside_with_a_reason()
    {
        RecordTrace recording = Recording;
        recording.Run(new("26-07/a", 1130), "a.csv", s_file, Hand);
        Assert.Equal("The same file is trace T-1 of load 26-07/a already. Nothing was added.", Text(recording.Run(new("26-07/a", 1120), "b.csv", s_file, Hand)));
        Assert.Contains("with a reason only", Text(recording.SetAside("T-1", " ", Hand)), StringComparison.Ordinal);
        Assert.NotNull(recording.SetAside("T-1", "wrong set value", Hand).Value);
        Assert.NotNull(recording.Run(new("26-07/a", 1120), "b.csv", s_file, Hand).Value);
        Assert.Equal([("T-1", "wrong set value"), ("T-2", null)], Bench.FurnaceTraces().Select(t => (t.Name, t.SetAside)));
    }

    [Fact]
    public void What_is_doubted_is_said()
    {
        string Doubts(string points, double set = 1130) => string.Join(" ", Recording.Look(new("26-07/a", set), "a.csv", Encoding.UTF8.GetBytes("time [min],load [°C]\n" + points)).Findings.Select(f => f.Text));
        Assert.Contains("never came within 10 °C of 1130 °C", Doubts("0,20\n1,2000 °F\n"), StringComparison.Ordinal);
        string over = Doubts("0,1130\n2,1150\n4,1130\n30,1130\n");
        Assert.Contains("Overshoot: 20 °C beyond the set value of 1130 °C, tolerance 10 °C; 2.0 min of the soak", over, StringComparison.Ordinal);
        Assert.Contains("begins or ends at temperature", over, StringComparison.Ordinal);
        Assert.Empty(Bench.FurnaceTraces());
    }

    [Fact]
    public void What_is_typed_beside_it_is_checked()
    {
        RecordTrace recording = Recording;
        Assert.Contains("No coupon of the bench stands in load x. Loads on the bench: 26-07/a.", Text(recording.Run(new("x", 1130), "a.csv", s_file, Hand)), StringComparison.Ordinal);
        Assert.Contains("set value of 2066 °C", Text(recording.Run(new("26-07/a", 2066), "a.csv", s_file, Hand)), StringComparison.Ordinal);
        Assert.Contains("tolerance of 0 °C", Text(recording.Run(new("26-07/a", 1130, 0), "a.csv", s_file, Hand)), StringComparison.Ordinal);
        Assert.Contains("a.csv: found an empty file", Text(recording.Run(new("26-07/a", 1130), "a.csv", [], Hand)), StringComparison.Ordinal);
    }
}
