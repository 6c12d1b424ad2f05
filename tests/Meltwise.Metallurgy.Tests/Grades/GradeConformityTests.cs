using Meltwise.Evidence;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Grades;
using Meltwise.Metallurgy.Sources;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Grades;

public sealed class GradeConformityTests
{
    private static readonly MeasuredContent[] s_d2 =
    [
        new(AlloyElement.C, 1.50, 0.015), new(AlloyElement.Mn, 0.35, 0.01), new(AlloyElement.Si, 0.30, 0.01),
        new(AlloyElement.Cr, 12.0, 0.06), new(AlloyElement.V, 0.85, 0.02), new(AlloyElement.Mo, 0.80, 0.02),
    ];

    [Fact] // JCGM 106 guarded acceptance by hand: 1.60 - 1.6448536 x 0.015 = 1.5753272.
    public void Acceptance_limit_of_carbon_in_D2()
    {
        ElementConformity carbon = GradeConformity.Of(GradeCatalogue.Find("D2"), s_d2).Elements.Single(e => e.Limits.Element == AlloyElement.C);
        Digits.Agree(1.575327195595728, carbon.AcceptedTo, new(12), "upper acceptance limit");
        Assert.Equal(Conformity.Conforms, carbon.Conformity);
        Assert.True(carbon.ProbabilityInside > 0.999);
    }

    [Theory]
    [InlineData(1.57, Conformity.Conforms)]
    [InlineData(1.59, Conformity.CannotBeDecided)]
    [InlineData(1.61, Conformity.CannotBeDecided)]
    [InlineData(1.63, Conformity.DoesNotConform)]
    [InlineData(1.39, Conformity.CannotBeDecided)]
    [InlineData(1.35, Conformity.DoesNotConform)]
    public void The_guard_band_separates_three_answers(double carbon, Conformity expected)
    {
        MeasuredContent[] heat = [new(AlloyElement.C, carbon, 0.015), .. s_d2.Skip(1)];
        Assert.Equal(expected, GradeConformity.Of(GradeCatalogue.Find("D2"), heat).Overall);
    }

    [Fact] // On the limit itself the true content is as likely inside as outside.
    public void On_the_limit_the_probability_is_one_half() =>
        Assert.Equal(0.5, GradeConformity.Of(GradeCatalogue.Find("D2"), [new(AlloyElement.C, 1.60, 0.015)]).Elements.Single(e => e.Limits.Element == AlloyElement.C).ProbabilityInside!.Value, 1e-6);

    [Fact]
    public void An_element_without_a_result_is_said_not_assumed()
    {
        GradeJudgement judgement = GradeConformity.Of(GradeCatalogue.Find("D2"), [.. s_d2.Take(5)]);
        Assert.Equal(Conformity.NotMeasured, judgement.Overall);
        Assert.Equal(AlloyElement.Mo, Assert.Single(judgement.Elements, e => e.Conformity == Conformity.NotMeasured).Limits.Element);
    }

    [Fact]
    public void A_maximum_has_no_limit_below()
    {
        ElementConformity vanadium = GradeConformity.Of(GradeCatalogue.Find("O1"), [new(AlloyElement.V, 0.0, 0.005)]).Elements.Single(e => e.Limits.Element == AlloyElement.V);
        Assert.Equal(Conformity.Conforms, vanadium.Conformity);
    }

    [Fact] // The two designations of this steel, ASTM D2 and ISO X153CrMoV12, are both in the catalogue.
    public void A_heat_of_D2_is_a_candidate_for_its_two_designations_and_no_other() =>
        Assert.Equal(["D2", "X153CrMoV12"], GradeConformity.Candidates(s_d2).Select(j => j.Grade.Designation).Order());

    [Fact]
    public void An_uncertainty_of_zero_is_refused() =>
        Assert.Contains("standard uncertainty of C", Assert.Throws<OutsideModelRangeException>(() => GradeConformity.Of(GradeCatalogue.Find("D2"), [new(AlloyElement.C, 1.5, 0)])).Message, StringComparison.Ordinal);
}
