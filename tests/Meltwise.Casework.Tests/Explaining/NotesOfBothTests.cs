using Meltwise.Casework.Explaining;
using Xunit;

namespace Meltwise.Casework.Tests.Explaining;

/// <summary>Notes of two heats are joined where they say the same.</summary>
public sealed class NotesOfBothTests
{
    [Fact]
    public void What_is_said_alike_of_both_heats_stands_once_and_the_order_stays()
    {
        string[] notes = ["The soak is taken to reach equilibrium.", "K17: Ti below 0.005 wt%.", "K17: S measured.", "M03: Ti below 0.005 wt%.", "M03: P measured.", "K170: Ti below 0.005 wt%."];
        Assert.Equal(
            ["The soak is taken to reach equilibrium.", "K17 and M03: Ti below 0.005 wt%.", "K17: S measured.", "M03: P measured.", "K170: Ti below 0.005 wt%."],
            NotesOfBoth.Joined(notes, "K17", "M03"));
    }
}
