using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>What the verdict says of a scatter of hardness between sessions that its rule leaves open: the numbers said are those that a rule with that value gives, and nothing is applied.</summary>
public sealed class SessionErrorTests
{
    private static readonly ComparisonInput s_open = Open();

    private static ComparisonInput Open()
    {
        ComparisonInput[] stand = [.. OracleCases.Names.Select(n => OracleCases.Input(OracleCases.Case(n)))
            .Where(i => i.Rule is { Estimand: Estimand.EqualHardness, SessionSdHrc: 0, Margin: Margin.Ratio } && Judge(i).Finding.Outcome != Outcome.NoVerdict)];
        Assert.NotEmpty(stand);
        return stand[0] with { Rule = stand[0].Rule with { SessionSdHrc = null } };
    }

    private static Verdict Judge(ComparisonInput input) => Comparison.Judge(input, TestContext.Current.CancellationToken);

    private static Verdict With(double sessionSd, bool separate = false) => Judge(s_open with { Rule = s_open.Rule with { SessionSdHrc = sessionSd, SeparateSessions = separate } });

    private static SessionScatter Checks(int sessions) => SessionScatter.Of(new("T1", "hardness tester", "hardness", "HRC"),
        [.. Enumerable.Range(0, sessions).Select(i => new Verification("T1", new DateOnly(2026, 1, 1).AddDays(i), new(2027, 1, 1), true, "block 62.4", Readings: [62.3 + 0.2 * (i % 2), 62.4 + 0.2 * (i % 2)]))])!;

    private static string Said(Verdict verdict) => string.Join(" ", verdict.Notes.Where(n => n.Contains("scatter of hardness between sessions", StringComparison.OrdinalIgnoreCase)));

    private static string Ratio(Verdict verdict)
    {
        bool agrees = verdict.Finding.Outcome is Outcome.Equivalent or Outcome.EquivalentDetectable;
        RatioInterval interval = agrees ? verdict.EqualHardness!.RatioForMargin! : verdict.EqualHardness!.Ratio!;
        (string estimate, string lower, string upper) = Figures.Interval(interval.Estimate, interval.Lower, interval.Upper);
        return $"ratio {estimate} ({lower} to {upper})";
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Without_checks_0_is_taken_and_the_outcome_under_03_is_said(bool separate)
    {
        Verdict open = Judge(s_open with { Rule = s_open.Rule with { SeparateSessions = separate } }), with = With(0.3, separate);
        Assert.Equal(With(0, separate).EqualHardness!.Ratio, open.EqualHardness!.Ratio);
        Assert.Contains("0 was taken. Were it 0.30 HRC", Said(open), StringComparison.Ordinal);
        Assert.Contains(with.Finding.Outcome == open.Finding.Outcome ? "would be the same" : "would be another", Said(open), StringComparison.Ordinal);
        Assert.Contains(Ratio(with), Said(open), StringComparison.Ordinal);
    }

    [Fact]
    public void Where_the_bench_can_tell_it_its_own_value_is_said_with_the_outcome_and_not_applied()
    {
        SessionScatter own = Checks(10);
        Verdict open = Judge(s_open with { HardnessSessions = own });
        Assert.Equal(With(0).EqualHardness!.Ratio, open.EqualHardness!.Ratio);
        Assert.Contains($"from its own checks of T1: {own.InWords}. 0 was taken; with 0.09 HRC", Said(open), StringComparison.Ordinal);
        Assert.Contains(Ratio(With(own.Offered!.Value)), Said(open), StringComparison.Ordinal);
        Assert.DoesNotContain("0.30 HRC", Said(open), StringComparison.Ordinal);
    }

    [Fact]
    public void Too_few_checks_are_said_beside_the_supposed_value()
    {
        string said = Said(Judge(s_open with { HardnessSessions = Checks(3) }));
        Assert.Contains("do not tell the scatter of hardness between sessions yet: 3 sessions", said, StringComparison.Ordinal);
        Assert.Contains("Were it 0.30 HRC", said, StringComparison.Ordinal);
    }

    [Fact]
    public void A_rule_that_names_it_is_held_against_the_checks_and_keeps_its_number()
    {
        Assert.DoesNotContain("do not agree", Said(Judge(s_open with { Rule = s_open.Rule with { SessionSdHrc = 0.1 }, HardnessSessions = Checks(10) })), StringComparison.Ordinal);
        Assert.Contains(With(0.1).Notes, n => n == "Scatter of hardness between sessions: 0.10 HRC, as the rule has it; taken into the slope.");
        Verdict far = Judge(s_open with { Rule = s_open.Rule with { SessionSdHrc = 0.5 }, HardnessSessions = Checks(10) });
        Assert.Contains("do not agree with it", Said(far), StringComparison.Ordinal);
        Assert.Equal(With(0.5).Finding.Outcome, far.Finding.Outcome);
    }

    [Fact]
    public void As_tested_it_stands_among_the_notes_of_equal_hardness()
    {
        Verdict asTested = Judge(s_open with { Rule = s_open.Rule with { Estimand = Estimand.AsTested } });
        Assert.Equal("", Said(asTested));
        Assert.Contains(asTested.EqualHardness!.Notes, n => n.Contains("Were it 0.30 HRC", StringComparison.Ordinal));
    }
}
