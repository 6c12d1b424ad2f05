using Meltwise.Evidence;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;
using Meltwise.Metallurgy.Tempering;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Explanation;

public sealed class ExplainerTests
{
    private static readonly HardeningTreatment s_untempered = new(1020, [20], []);

    private static readonly (string, double, double?)[] s_d2 =
        [("C", 1.50, null), ("Cr", 12.0, null), ("Mo", 0.8, null), ("V", 0.9, null), ("Mn", 0.3, null), ("Si", 0.3, null)];

    private static readonly (string, double, double?)[] s_moreCarbonLessChromium =
        [("C", 1.55, null), ("Cr", 11.7, null), ("Mo", 0.8, null), ("V", 0.9, null), ("Mn", 0.3, null), ("Si", 0.3, null)];

    // Made-up pair. Parameter set's documentation, computed by another program: +0.05 C gives +0.018 dissolved C, -0.3 Cr gives +0.016, on a
    // D2 of slightly other content; 0.002 covers that and rounding.
    [Fact]
    public void More_carbon_and_less_chromium_in_D2_dissolve_more_carbon_by_the_known_amounts()
    {
        ChemistryExplanation e = Explain(s_d2, s_moreCarbonLessChromium, s_untempered, new(1.1, 0.1), new() { Draws = 300 });
        Assert.Equal(0.018, Contribution(e, "C").CarbonInAustenite.Estimate, 0.002);
        Assert.Equal(0.016, Contribution(e, "Cr").CarbonInAustenite.Estimate, 0.002);
        Assert.Equal(2, e.Contributions.Count);
        Assert.True(e.Difference.CarbonInAustenite.Lower > 0);
        Assert.True(e.Difference.ChromiumInAustenite.Upper < 0);
        Assert.True(e.Difference.MartensiteStartC.Upper < 0);
        Assert.True(e.Difference.HardnessHrc.Estimate is > 0.2 and < 0.9);
        Assert.Equal(CarbideKind.M7C3, Assert.Single(e.Difference.CarbidesByKind).Key);
        Assert.Equal(ExplanationFinding.ExplainsPart, e.Finding);
        Assert.StartsWith("Chemistry explains", e.Sentence, StringComparison.Ordinal);
        Assert.InRange(e.ExplainedShare!.Value.Estimate, 0.2, 0.9);
    }

    [Fact]
    public void Absolute_values_are_uncertain_and_differences_firm_because_common_errors_cancel()
    {
        ChemistryExplanation e = Explain(s_d2, s_moreCarbonLessChromium, s_untempered, null, new() { Draws = 2000, Soak = new StraightLineSoak() });
        Assert.True(e.Reference.MartensiteStartC.HalfWidth > 30);
        Assert.True(e.Difference.MartensiteStartC.HalfWidth < 0.25 * e.Reference.MartensiteStartC.HalfWidth);
        Assert.True(e.Difference.CarbonInAustenite.HalfWidth < 0.5 * e.Reference.CarbonInAustenite.HalfWidth);
    }

    [Fact]
    public void Equal_heats_measured_without_repeatability_differ_by_nothing_whatever_the_model_errors()
    {
        HeatChemistry a = new("A", [Content("C", 1.5, 0, 0.02), Content("Cr", 12, 0, 0.1)], IsWhole: true), b = a with { Name = "B" };
        ChemistryExplanation e = Explainer.Explain(a, b, s_untempered, null, new() { Draws = 500, Soak = new StraightLineSoak() }, null, TestContext.Current.CancellationToken);
        Assert.Equal(0, e.Difference.HardnessHrc.Lower);
        Assert.Equal(0, e.Difference.HardnessHrc.Upper);
        Assert.True(e.Reference.HardnessHrc.HalfWidth > 0.3);
    }

    // Closed formula: dissolved carbon is a straight line of the contents, so its difference is normal with
    // sd² = (0.35)² 2 sC² + (0.05)² 2 sCr² when nothing is shared. 20 000 draws: the ends of a 95 % interval are known to about 1.5 % of the half width.
    [Fact]
    public void Without_model_errors_the_interval_is_that_of_the_closed_formula()
    {
        (string, double, double?)[] a = [("C", 1.50, 0.02), ("Cr", 12.0, 0.10)], b = [("C", 1.56, 0.02), ("Cr", 11.7, 0.10)];
        ChemistryExplanation e = Explainer.Explain(ChemistrySelection.Typed("A", a), ChemistrySelection.Typed("B", b), s_untempered, null,
            new() { Draws = 20_000, Soak = new StraightLineSoak(), Spread = ChainErrorSpread.Nothing }, null, TestContext.Current.CancellationToken);
        double mean = StraightLineSoak.CarbonForCarbon * 0.06 + StraightLineSoak.CarbonForChromium * -0.3;
        double sd = Math.Sqrt(2 * (Math.Pow(StraightLineSoak.CarbonForCarbon * 0.02, 2) + Math.Pow(StraightLineSoak.CarbonForChromium * 0.10, 2)));
        Assert.Equal(mean, e.Difference.CarbonInAustenite.Estimate, 0.05 * sd);
        Assert.Equal(mean - 1.96 * sd, e.Difference.CarbonInAustenite.Lower, 0.06 * sd);
        Assert.Equal(mean + 1.96 * sd, e.Difference.CarbonInAustenite.Upper, 0.06 * sd);
    }

    [Fact]
    public void A_bias_shared_by_method_and_laboratory_narrows_the_difference()
    {
        ChemistryExplanation same = Explain(s_d2, s_moreCarbonLessChromium, s_untempered, null, new() { Draws = 4000, Soak = new StraightLineSoak() }, "our laboratory");
        ChemistryExplanation unknown = Explain(s_d2, s_moreCarbonLessChromium, s_untempered, null, new() { Draws = 4000, Soak = new StraightLineSoak() }, null);
        Assert.True(same.Difference.CarbonInAustenite.HalfWidth < 0.6 * unknown.Difference.CarbonInAustenite.HalfWidth);
        Assert.Contains(unknown.Notes, n => n.Contains("no bias cancels", StringComparison.Ordinal));
        Assert.DoesNotContain(same.Notes, n => n.Contains("no bias cancels", StringComparison.Ordinal));
    }

    [Fact]
    public void The_same_seed_gives_the_same_bits_at_any_number_of_threads()
    {
        ChemistryExplanation one = Explain(s_d2, s_moreCarbonLessChromium, s_untempered, new(1.1, 0.1), new() { Draws = 120, Threads = 1 });
        ChemistryExplanation three = Explain(s_d2, s_moreCarbonLessChromium, s_untempered, new(1.1, 0.1), new() { Draws = 120, Threads = 3 });
        Assert.Equal(one.Difference.HardnessHrc, three.Difference.HardnessHrc);
        Assert.Equal(one.Difference.CarbonInAustenite, three.Difference.CarbonInAustenite);
        Assert.Equal(one.Reference.RetainedAustenite, three.Reference.RetainedAustenite);
        Assert.Equal(one.LeftOverHrc, three.LeftOverHrc);
        ChemistryExplanation other = Explain(s_d2, s_moreCarbonLessChromium, s_untempered, new(1.1, 0.1), new() { Draws = 120, Threads = 1, Seed = 2 });
        Assert.NotEqual(one.Difference.HardnessHrc, other.Difference.HardnessHrc);
    }

    [Fact] // Made-up case: two heats of one chemistry, one 4 HRC softer.
    public void A_difference_that_chemistry_does_not_make_cannot_be_explained_by_it()
    {
        ChemistryExplanation e = Explain(s_d2, s_d2, s_untempered, new(-4, 0.2), new() { Draws = 2000, Soak = new StraightLineSoak() });
        Assert.Equal(ExplanationFinding.CannotBeExplained, e.Finding);
        Assert.Contains("cannot be explained by chemistry", e.Sentence, StringComparison.Ordinal);
        Assert.Contains("beyond the chain's own error", e.Sentence, StringComparison.Ordinal);
        Assert.Empty(e.Contributions);
    }

    [Fact]
    public void A_high_temper_is_speculative_and_takes_retained_austenite_as_turned()
    {
        ChemistryExplanation e = Explain(s_d2, s_moreCarbonLessChromium, new(1020, [20], [new(520, 2), new(520, 2)]), new(0.5, 0.1), new() { Draws = 500, Soak = new StraightLineSoak() });
        Assert.Equal(Strength.Speculative, e.Strength);
        Assert.Equal(0, e.Reference.RetainedAustenite.Estimate);
        Assert.Contains(e.Notes, n => n.Contains("secondary hardening", StringComparison.Ordinal));
    }

    [Fact]
    public void A_low_temper_lowers_both_and_changes_the_difference_not_at_all()
    {
        ChemistryExplanation untempered = Explain(s_d2, s_moreCarbonLessChromium, s_untempered, null, new() { Draws = 500, Soak = new StraightLineSoak() });
        ChemistryExplanation tempered = Explain(s_d2, s_moreCarbonLessChromium, new(1020, [20], [new(200, 2)]), null, new() { Draws = 500, Soak = new StraightLineSoak() });
        Assert.Equal(untempered.Difference.HardnessHrc.Estimate, tempered.Difference.HardnessHrc.Estimate, 1e-9);
        Assert.Equal(2.5, untempered.Reference.HardnessHrc.Estimate - tempered.Reference.HardnessHrc.Estimate, 1e-9);
    }

    [Fact]
    public void The_bench_s_own_cases_set_the_chain_s_error()
    {
        ChainCalibration calibration = new([new("a", 60, 60.5), new("b", 61, 61.4), new("c", 62, 62.7), new("d", 59, 59.6)], CalibrationPrior.FromModelErrorBars);
        ChemistryExplanation e = Explain(s_d2, s_moreCarbonLessChromium, s_untempered, new(1, 0.1), new() { Draws = 200, Soak = new StraightLineSoak(), Calibration = calibration });
        Digits.Agree(Math.Sqrt(2) * calibration.ScatterHrc, e.ChainErrorHrc, new(12), "chain error");
        Assert.Contains(e.Notes, n => n.StartsWith("This chain was off by", StringComparison.Ordinal));
    }

    [Fact]
    public void An_element_measured_in_one_heat_only_explains_nothing_and_is_named()
    {
        HeatChemistry a = ChemistrySelection.Of("A", [new("C", 1.5, false, AnalyticalMethod.Combustion), new("Cr", 12, false, AnalyticalMethod.SparkEmission)]);
        HeatChemistry b = ChemistrySelection.Of("B", [new("C", 1.5, false, AnalyticalMethod.Combustion)]);
        ChemistryExplanation e = Explainer.Explain(a, b, s_untempered, null, new() { Draws = 200, Soak = new StraightLineSoak() }, null, TestContext.Current.CancellationToken);
        Assert.Contains(e.Notes, n => n.StartsWith("Cr was measured in A only", StringComparison.Ordinal));
        Assert.Equal(0, e.Difference.ChromiumInAustenite.HalfWidth, 1e-12);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    public void Progress_never_falls_and_ends_at_all_draws_made(int threads)
    {
        List<double> told = [];
        HeatChemistry steel = ChemistrySelection.Typed("A", s_d2);
        Explainer.Explain(steel, steel with { Name = "B" }, s_untempered, null, new() { Draws = 1000, Threads = threads, Soak = new StraightLineSoak() },
            new ToldAtOnce(told.Add), TestContext.Current.CancellationToken);
        Assert.Equal(200, told.Count);
        Assert.Equal(told.Order(), told);
        Assert.Equal(1, told[^1]);
    }

    [Fact]
    public void Work_stops_between_draws_when_it_is_cancelled()
    {
        using CancellationTokenSource cancel = new();
        List<double> told = [];
        ToldAtOnce listener = new(share =>
        {
            told.Add(share);
            if (share >= 0.1) cancel.Cancel();
        });
        HeatChemistry steel = ChemistrySelection.Typed("A", s_d2);
        Assert.ThrowsAny<OperationCanceledException>(() => Explainer.Explain(steel, steel with { Name = "B" }, s_untempered, null,
            new() { Draws = 1000, Threads = 2, Soak = new StraightLineSoak() }, listener, cancel.Token));
        Assert.InRange(told[^1], 0.1, 0.2);
    }

    [Fact] // Nickel belongs to the extended, less verified elements of the parameter set; phosphorus is not in it.
    public void Weaknesses_of_the_parameter_set_and_elements_left_out_reach_the_notes()
    {
        (string, double, double?)[] steel = [.. s_d2, ("Ni", 0.3, null), ("P", 0.02, null)];
        ChemistryExplanation e = Explain(steel, steel, s_untempered, null, new() { Draws = 100 });
        Assert.Contains(e.Notes, n => n.StartsWith("A: ", StringComparison.Ordinal) && n.Contains("Ni", StringComparison.Ordinal));
        Assert.Contains("A: P measured but not part of the chain.", e.Notes);
    }

    [Fact]
    public void Outside_the_models_it_is_refused_not_guessed()
    {
        (string, double, double?)[] soft = [("C", 0.05, null), ("Cr", 12, null)];
        Assert.Throws<ChainRefusedException>(() => Explain(soft, soft, s_untempered, null, new() { Draws = 100, Soak = new StraightLineSoak() }));
        Assert.Throws<ChainRefusedException>(() => Explain([("Cr", 12, null)], s_d2, s_untempered, null, new() { Soak = new StraightLineSoak() }));
        Assert.Throws<ArgumentException>(() => Explain(s_d2, s_d2, s_untempered, null, new() { Draws = 10 }));
        Assert.Throws<ArgumentException>(() => Explain(s_d2, s_d2, new(1020, [], []), null, new() { Soak = new StraightLineSoak() }));
        Assert.Throws<EquilibriumRefusedException>(() => Explain(s_d2, s_d2, new(400, [20], []), null, new() { Draws = 100 }));
        Assert.Contains("no austenite", Assert.Throws<ChainRefusedException>(() => Explain(s_d2, s_d2, new(650, [20], []), null, new() { Draws = 100 })).Message, StringComparison.Ordinal);
    }

    private static ElementContent Content(string element, double massPercent, double repeatability, double bias) =>
        new(element, massPercent, new(repeatability, bias), null, AnalyticalMethod.Combustion, "lab", false, []);

    private static ElementContribution Contribution(ChemistryExplanation e, string element) => e.Contributions.Single(c => c.Element == element);

    private static ChemistryExplanation Explain((string, double, double?)[] a, (string, double, double?)[] b, HardeningTreatment treatment,
        ObservedHardnessDifference? observed, ExplanationOptions options, string? laboratory = "lab") =>
        Explainer.Explain(ChemistrySelection.Typed("A", a, laboratory), ChemistrySelection.Typed("B", b, laboratory), treatment, observed, options, null, TestContext.Current.CancellationToken);
}
