using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Grades;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Explanation;

/// <summary>The whole chain on the middle of every standard grade, at a usual hardening temperature of its kind (common practice).</summary>
public sealed class EveryGradeTests
{
    public static TheoryData<string> Designations() => [.. GradeCatalogue.All.Select(g => g.Designation)];

    [Theory]
    [MemberData(nameof(Designations))]
    public void A_little_more_carbon_is_explained_in_every_grade(string designation)
    {
        Grade grade = GradeCatalogue.Find(designation);
        AlloyContent middle = grade.Middle;
        HeatChemistry a = Heat("A", middle, 1), b = Heat("B", middle, 1.03);
        ChemistryExplanation e = Explainer.Explain(a, b, new(HardeningC(middle), [20], []), null, new() { Draws = 100, Threads = 2 }, null, TestContext.Current.CancellationToken);

        Assert.InRange(e.Reference.HardnessHrc.Estimate, 40, 69);
        Assert.InRange(e.Reference.CarbonInAustenite.Estimate, 0.15, 1.0);
        Assert.InRange(e.Reference.RetainedAustenite.Estimate, 0.005, 0.6);
        Assert.True(e.Difference.CarbonInAustenite.Estimate > -0.002); // saturated with cementite (W1) more carbon cannot dissolve
        ElementContribution carbon = Assert.Single(e.Contributions);
        Assert.Equal(e.Difference.CarbonInAustenite.Estimate, carbon.CarbonInAustenite.Estimate, 0.01);
        Assert.True(e.Difference.HardnessHrc.Lower <= e.Difference.HardnessHrc.Estimate && e.Difference.HardnessHrc.Estimate <= e.Difference.HardnessHrc.Upper);
    }

    private static double HardeningC(AlloyContent steel) => steel switch
    {
        { W: > 10 } or { Mo: > 4 } => 1190,
        { W: > 8 } => 1150,
        { Cr: > 4 } or { V: > 3 } => 1020,
        { Cr: > 2.5 } => 950,
        { C: > 1.05 } => 790,
        _ => 850,
    };

    private static HeatChemistry Heat(string name, AlloyContent steel, double carbonFactor) => ChemistrySelection.Typed(name,
        [.. AlloyContent.Elements.Where(e => steel[e] > 0).Select(e => (e.ToString(), e == AlloyElement.C ? carbonFactor * steel[e] : steel[e], (double?)null))], "lab");
}
