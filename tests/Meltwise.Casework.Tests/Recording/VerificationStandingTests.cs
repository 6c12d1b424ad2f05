using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Recording;

/// <summary>How an instrument stood on a day. The rules are common practice; the days are invented.</summary>
public sealed class VerificationStandingTests
{
    private static readonly Verification[] s_kept =
    [
        new("P1", new(2024, 3, 1), new(2025, 3, 1), true),
        new("P1", new(2025, 6, 1), new(2026, 6, 1), true),
        new("P1", new(2026, 2, 1), new(2026, 2, 1), false),
        new("P1", new(2026, 2, 20), new(2027, 2, 20), true),
    ];

    [Theory]
    [InlineData("2024-02-29", InstrumentState.BeforeFirst, false)]
    [InlineData("2024-03-01", InstrumentState.Verified, true)]
    [InlineData("2025-03-01", InstrumentState.Verified, true)]
    [InlineData("2025-03-02", InstrumentState.Lapsed, false)]
    [InlineData("2025-06-01", InstrumentState.DoubtedBack, true)]
    [InlineData("2026-01-31", InstrumentState.DoubtedBack, true)]
    [InlineData("2026-02-01", InstrumentState.Failed, false)]
    [InlineData("2026-02-19", InstrumentState.Failed, false)]
    [InlineData("2026-02-20", InstrumentState.Verified, true)]
    [InlineData("2027-02-21", InstrumentState.Lapsed, false)]
    public void A_failed_check_ends_what_passed_before_and_doubts_it_back(string day, InstrumentState state, bool mayBeUsed)
    {
        var standing = VerificationStanding.On(s_kept.Reverse(), DateOnly.Parse(day, System.Globalization.CultureInfo.InvariantCulture));
        Assert.Equal((state, mayBeUsed), (standing.State, standing.MayBeUsed));
        Assert.Equal(state == InstrumentState.Verified, standing.Why.Length == 0);
    }

    [Fact]
    public void Without_a_record_it_is_unknown_not_failed()
    {
        var standing = VerificationStanding.On([], new(2026, 1, 1));
        Assert.Equal((InstrumentState.NoRecord, true, ""), (standing.State, standing.MayBeUsed, standing.Why));
    }

    [Fact]
    public void The_longest_of_several_passed_checks_holds()
    {
        Verification[] kept = [new("P1", new(2026, 1, 1), new(2026, 12, 31), true, "lot 5"), new("P1", new(2026, 1, 2), new(2026, 3, 1), true, "lot 9")];
        Assert.Equal(InstrumentState.Verified, VerificationStanding.On(kept, new(2026, 6, 1)).State);
    }
}
