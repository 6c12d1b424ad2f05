using System.Text.Json;
using Json.Schema;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>Several properties of one rule: Oracles/several-properties (R, t.test and p.adjust), the joint answer, and what is worded how.</summary>
public sealed class OtherPropertiesTests
{
    // R prints 15 significant digits; a p value of a t distribution keeps 9 of them.
    private static readonly Digits s_digits = new(9);
    private static readonly JsonElement s_oracle = Load();
    private static readonly JsonSchema s_schema = JsonSchema.FromText(VerdictJson.Schema(), new BuildOptions { SchemaRegistry = new() });

    private static readonly OtherProperty s_hardness = new("hardness", new Margin.Absolute(1, "HRC")), s_wear = new("wear loss", new Margin.Ratio(0.85, 1.18)),
        s_austenite = new("retained austenite", new Margin.Absolute(2, "vol%")), s_size = new("carbide size", new Margin.Ratio(0.9, 1.1));

    [Fact]
    public void All_equivalent_is_an_intersection_union_and_different_in_one_takes_Holm()
    {
        Verdict verdict = Judge(Rule([s_hardness]));
        JointResult joint = verdict.Joint!;
        JsonElement oracle = s_oracle.GetProperty("primaries");
        Digits.Agree(oracle.GetProperty("hardness").GetProperty("pEquivalence").GetDouble(), joint.PAllEquivalent, s_digits, "p of all equivalent");
        foreach (JointProperty p in joint.Primaries)
        {
            Digits.Agree(oracle.GetProperty(p.Property).GetProperty("pEquivalence").GetDouble(), p.PEquivalence, s_digits, p.Property);
            Digits.Agree(oracle.GetProperty(p.Property).GetProperty("pDifference").GetDouble(), p.PDifference, s_digits, p.Property);
            Digits.Agree(s_oracle.GetProperty("holmOfTwo").GetProperty(p.Property).GetDouble(), p.PDifferenceHolm, s_digits, p.Property);
        }
        Assert.Equal((Answer.Yes, Answer.Yes), (joint.AllEquivalent, joint.DifferentInAtLeastOne));
        Assert.Equal(["hardness"], joint.DifferentIn);
        Assert.Equal((Outcome.EquivalentDetectable, Answer.Yes), (verdict.Finding.Outcome, verdict.Finding.Answer));
        Assert.StartsWith("2 primary properties, judged together (impact energy equivalent, hardness equivalent, real but immaterial): they agree in all of them, each within its margin.", verdict.Finding.Sentence, StringComparison.Ordinal);
        Assert.Contains(verdict.Finding.MayNotClaim, c => c.Contains("any property other than impact energy and hardness", StringComparison.Ordinal));
        Assert.Equal("in all 2 primary properties; a real but immaterial difference in hardness", OutcomeWords.Of(verdict).Qualifier);
    }

    [Fact]
    public void One_beyond_its_margin_is_enough_for_no()
    {
        Verdict verdict = Judge(Rule([s_hardness, s_wear]));
        Assert.Equal(Answer.No, verdict.Joint!.AllEquivalent);
        Assert.Equal((Outcome.Worse, Answer.No), (verdict.Finding.Outcome, verdict.Finding.Answer));
        Assert.Equal(Outcome.Equivalent, verdict.FirstOutcome);
        Assert.Equal(Outcome.Equivalent, verdict.AsTested!.Outcome);
        foreach (OtherPropertyResult other in verdict.OtherProperties!)
            Digits.Agree(s_oracle.GetProperty("holmOfThree").GetProperty(other.Property).GetDouble(), other.PDifferenceHolm, s_digits, other.Property);
        Assert.Equal(["hardness", "wear loss"], verdict.Joint.DifferentIn);
        Assert.Contains("they do not agree in all of them: wear loss beyond the margin", verdict.Finding.Sentence, StringComparison.Ordinal);
        Assert.Equal("in wear loss, by more than the margin", OutcomeWords.Of(verdict).Qualifier);
    }

    [Fact]
    public void Secondary_properties_leave_the_verdict_as_it_is()
    {
        Verdict alone = Judge(Rule()), with = Judge(Rule(secondaries: [s_austenite, s_size]));
        Assert.Null(with.Joint);
        Assert.Equal(alone.Finding.Text, with.Finding.Text);
        Assert.Equal(alone.Finding.MayClaim, with.Finding.MayClaim);
        Assert.Equal(["secondary", "secondary"], with.OtherProperties!.Select(o => o.Role));
        foreach (OtherPropertyResult other in with.OtherProperties!)
            Digits.Agree(s_oracle.GetProperty("holmOfSecondaries").GetProperty(other.Property).GetDouble(), other.PDifferenceHolm, s_digits, other.Property);
        Assert.Equal([true, false], with.OtherProperties.Select(o => o.DifferenceClaimed));
        Assert.EndsWith("Secondary, exploratory; the difference holds after Holm's correction over 2 secondary properties (p = 0.024).", with.OtherProperties[0].Sentence, StringComparison.Ordinal);
    }

    // Five more secondary properties would take p = 0.012 to 0.06: seen, and not claimed.
    [Fact]
    public void A_difference_that_Holm_does_not_carry_is_not_claimed()
    {
        OtherProperty[] absent = [new("bend strength", new Margin.Ratio(0.8, 1.25)), new("oxygen", new Margin.Ratio(0.5, 2)), new("largest particle", new Margin.Ratio(0.5, 2)), new("pitting potential", new Margin.Absolute(20, "mV"))];
        OtherPropertyResult austenite = Judge(Rule(secondaries: [s_austenite, .. absent])).OtherProperties![0];
        Digits.Agree(5 * s_oracle.GetProperty("secondaries").GetProperty("retained austenite").GetProperty("pDifference").GetDouble(), austenite.PDifferenceHolm, s_digits, "Holm over five");
        Assert.False(austenite.DifferenceClaimed);
        Assert.Contains("a difference is not claimed after Holm's correction over 5 secondary properties", austenite.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void A_primary_that_nobody_read_leaves_no_verdict()
    {
        Verdict verdict = Judge(Rule([new("bend strength", new Margin.Ratio(0.8, 1.25))]));
        Assert.Equal((Outcome.NoVerdict, Reason.TooFew), (verdict.Finding.Outcome, verdict.Finding.Reason));
        Assert.Equal("bend strength: no coupon of either lot has a valid reading of bend strength and at least 3 a lot are needed", verdict.Finding.Missing);
        Assert.Equal(Answer.Open, verdict.Joint!.AllEquivalent);
        Assert.Null(verdict.Finding.Answer);
        Assert.Empty(verdict.Finding.MayClaim);
        Assert.Equal(Outcome.Equivalent, verdict.FirstOutcome);
    }

    [Theory]
    [InlineData(Question.Equivalent, Answer.No)]
    [InlineData(Question.NotWorse, Answer.No)]
    [InlineData(Question.Better, Answer.No)]
    [InlineData(Question.Difference, Answer.Yes)]
    public void The_answer_follows_the_question(Question question, Answer answer)
    {
        Verdict verdict = Judge(Rule([s_hardness, s_wear]) with { Question = question });
        Assert.Equal(answer, verdict.Finding.Answer);
        // Hardness has no good direction, so it is asked whether it agrees.
        Assert.Equal(question == Question.Difference ? "difference" : "equivalent", verdict.OtherProperties![0].Rule.Question);
    }

    [Theory]
    [InlineData("hardness", "hardness is named twice")]
    [InlineData("toughness", "impact energy is named twice")]
    public void A_property_named_twice_is_a_fault(string name, string message)
    {
        DecisionRule rule = Rule([s_hardness], [new(name, name == "hardness" ? new Margin.Absolute(2, "HRC") : new Margin.Ratio(0.8, 1.25))]);
        Assert.Contains(message, Assert.Throws<ComparisonFaultException>(() => Judge(rule)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_margin_that_does_not_fit_names_the_property() =>
        Assert.Contains("hardness is compared as a difference", Assert.Throws<ComparisonFaultException>(() => Judge(Rule([new("hardness", new Margin.Ratio(0.8, 1.25))]))).Message, StringComparison.Ordinal);

    [Fact]
    public void A_coupon_that_did_not_break_still_has_its_hardness()
    {
        CouponRow[] rows = Rows();
        rows[2] = rows[2] with { State = CouponState.NotBroken };
        Verdict verdict = Judge(Rule([s_hardness]), rows);
        Assert.NotNull(verdict.Censored);
        Assert.Equal("own variances", verdict.OtherProperties![0].AsTested!.Method);
        Digits.Agree(s_oracle.GetProperty("primaries").GetProperty("hardness").GetProperty("pDifference").GetDouble(), verdict.OtherProperties[0].PDifference, s_digits, "hardness");
    }

    // The planned number is for the first property: more hardness readings than planned are no unplanned extension.
    [Fact]
    public void The_look_of_the_first_property_is_that_of_all()
    {
        Verdict planned = Judge(Rule([s_hardness]) with { Look = 1 });
        Assert.Equal(0.025, planned.OtherProperties![0].Rule.Alpha);
        Verdict extended = Judge(Rule([s_hardness]) with { PlannedCouponsPerLot = 7 });
        Assert.Equal((0.025, 0.025), (extended.Rule.Alpha, extended.OtherProperties![0].Rule.Alpha));
    }

    [Fact]
    public void A_further_primary_is_judged_by_the_estimand_of_the_rule_and_hardness_as_tested()
    {
        Verdict verdict = Judge(Rule([s_hardness, s_wear], [s_size]) with { Estimand = Estimand.EqualHardness });
        Assert.Equal(["as-tested", "equal-hardness", "as-tested"], verdict.OtherProperties!.Select(o => o.Rule.Estimand));
        Assert.Equal(Reason.NoHistory, verdict.OtherProperties![1].Reason);
        Assert.True(verdict.OtherProperties[1].AsTested!.Stands);
    }

    [Fact]
    public void Every_such_verdict_fits_the_schema_and_reads_back()
    {
        foreach (DecisionRule rule in new[] { Rule([s_hardness], [s_austenite, new("oxygen", new Margin.Ratio(0.5, 2))]), Rule(secondaries: [s_size]), Rule([s_wear]) with { Estimand = Estimand.Sources } })
        {
            string json = VerdictJson.Write(Judge(rule));
            using JsonDocument document = JsonDocument.Parse(json);
            Assert.True(s_schema.Evaluate(document.RootElement).IsValid, json);
            Assert.Equal(json, VerdictJson.Write(VerdictJson.Read(json)));
        }
    }

    private static DecisionRule Rule(OtherProperty[]? primaries = null, OtherProperty[]? secondaries = null) =>
        Coupons.Rule() with { FurtherPrimaries = primaries, Secondaries = secondaries };

    private static Verdict Judge(DecisionRule rule, CouponRow[]? rows = null) => Comparison.Judge(Coupons.Input(rows ?? Rows(), rule), TestContext.Current.CancellationToken);

    private static CouponRow[] Rows()
    {
        JsonElement readings = s_oracle.GetProperty("readings");
        double Of(string property, string role, int i) => readings.GetProperty(property).GetProperty(role)[i].GetDouble();
        return [.. new[] { ("K17", "reference"), ("M03", "candidate") }.SelectMany(lot => Enumerable.Range(0, 8).Select(i => new CouponRow
        {
            Heat = lot.Item1,
            Coupon = $"{i + 1}",
            Hardness = [CensoredValue.Of(Of("hardness", lot.Item2, i), "HRC")],
            Readings = new (string Property, string Unit)[] { ("impact energy", "J"), ("wear loss", "mm³"), ("retained austenite", "vol%"), ("carbide size", "µm") }
                .ToDictionary(p => p.Property, p => (IReadOnlyList<CensoredValue>)[CensoredValue.Of(Of(p.Property, lot.Item2, i), p.Unit)]),
        }))];
    }

    private static JsonElement Load()
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Oracles", "several-properties", "several_properties.json")));
        return document.RootElement.Clone();
    }
}
