using Meltwise.Casework.Demonstration;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Casework.Tests.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests;

/// <summary>The three invented enquiries come out three ways (agreement; not settled; agreement only at equal hardness); the last one rests on the bench's own checks of its hardness tester. No check of truth.</summary>
public sealed class DemonstrationOutcomesTests : OwnBench
{
    [Fact]
    public void The_three_enquiries_come_out_three_ways()
    {
        Bench.Commit(DemonstrationBench.Author, DemonstrationBench.Reason, DemonstrationBench.Changes());
        Verdict[] verdicts = [.. Bench.Enquiries().Select(e => EnquiryJudgement.Judge(Bench, e, TestContext.Current.CancellationToken))];
        Assert.Equal([Outcome.Equivalent, Outcome.Inconclusive, Outcome.Equivalent], verdicts.Select(v => v.Finding.Outcome));
        Assert.Equal(Outcome.DifferentOpen, verdicts[2].AsTested!.Outcome);

        Enquiry last = Bench.FindEnquiry("Q-09")!;
        SessionScatter until = SessionScatter.Of(DemonstrationVerifications.HardnessTester, Bench.Verifications(), DateOnly.FromDateTime(last.Lock!.AtUtc))!;
        Assert.Equal((until.Offered, until.Origin), (last.Rule!.SessionSdHrc, last.Rule.SessionSdFrom));
        Assert.InRange(until.Offered!.Value, 0.05, 0.15);
        Assert.All(["Q-07", "Q-08"], name => Assert.Null(Bench.FindEnquiry(name)!.Rule!.SessionSdHrc));
        Assert.Equal(["Q-09/1", "Q-09/2"], Bench.FurnaceTraces().Select(t => t.Load));
        Assert.Equal([false, true], Bench.FurnaceTraces().Select(t => FurnaceTraceWords.Soak(t).IsOvershot));
        Assert.Equal([0, 1], Bench.FurnaceTraces().Select(t => FurnaceTraceWords.Doubts(t, Bench.Treatments()).Count()));
        Assert.Empty(Bench.Check().Faults);
        string page = File.ReadAllText(Path.Combine(Evidence.Repository.Root, "docs", "guide", "demonstration.md"));
        Assert.Contains(FormattableString.Invariant($"from session to session, {until.Offered:0.00} HRC"), page, StringComparison.Ordinal);
    }
}
