using Meltwise.Casework.Asking;
using Meltwise.Casework.Recording;
using Meltwise.Casework.Tests.Recording;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Asking;

public sealed class NameWorkTests : OwnBench
{
    [Fact]
    public void Work_authoriser_and_interests_are_kept_and_half_a_line_is_refused()
    {
        new WriteEnquiry(Bench).New(new("E-1", "Same?"), Hand);
        NameWork name = new(Bench);
        Assert.True(name.Run("E-1", new([new("chemistry", "Chemlab Example", true)], "A. Tester", "none", "coupons 0.1 mm short"), Hand).Done);
        Enquiry stored = Bench.FindEnquiry("E-1")!;
        Assert.Equal(new PartOfWork("chemistry", "Chemlab Example", true), Assert.Single(stored.Work));
        Assert.Equal(("A. Tester", "none", "coupons 0.1 mm short"), (stored.Authoriser, stored.ConflictsOfInterest, stored.Deviations));
        Outcome<Enquiry> half = name.Run("E-1", new([new("impact tests", " ")]), Hand);
        Assert.Contains("a task without a person", Text(half), StringComparison.Ordinal);
        Assert.Single(Bench.FindEnquiry("E-1")!.Work);
    }
}
