using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Meltwise.Casework.Asking;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Asking;

public sealed class RuleTextTests
{
    private static readonly DecisionRule s_rule = new() { Property = "impact energy", Margin = new Margin.Ratio(0.8, 1.25), Alpha = 0.05, PlannedCouponsPerLot = 9 };

    private static readonly OtherProperty s_hardness = new("hardness", new Margin.Absolute(1, "HRC"));

    [Fact]
    public void Other_properties_stand_last_and_a_rule_without_them_keeps_its_text()
    {
        DecisionRule several = s_rule with { FurtherPrimaries = [s_hardness], Secondaries = [new("retained austenite", new Margin.Absolute(2, "vol%"))] };
        Assert.Equal(RuleText.Write(s_rule) + "further primary: hardness; difference 1 HRC\nsecondary: retained austenite; difference 2 vol%\n", RuleText.Write(several));
        Assert.Equal(RuleText.Write(s_rule), RuleText.Write(s_rule with { FurtherPrimaries = [], Secondaries = [] }));
    }

    [Fact]
    public void The_canonical_text_is_fixed() => Assert.Equal(
        "property: impact energy\nmargin: ratio 0.8 to 1.25\nquestion: Equivalent\nestimand: AsTested\nscatter: Own\nalpha: 0.05\nplanned coupons per lot: 9\n", RuleText.Write(s_rule));

    // SHA-256 (FIPS 180-4) by the platform over the text above: the digest is no more than that.
    [Fact]
    public void The_digest_is_the_SHA_256_of_the_text() =>
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(RuleText.Write(s_rule)))), RuleText.Digest(s_rule));

    [Fact]
    public void Any_term_that_is_changed_changes_the_digest()
    {
        DecisionRule[] rules =
        [
            s_rule, s_rule with { Property = "wear loss" }, s_rule with { Margin = new Margin.Ratio(0.8, 1.26) }, s_rule with { Margin = new Margin.Absolute(3, "J") },
            s_rule with { Margin = new Margin.Absolute(3, "ft·lbf") }, s_rule with { Margin = new Margin.InHardness(1) }, s_rule with { Question = Question.Better }, s_rule with { Estimand = Estimand.Sources },
            s_rule with { Scatter = ScatterChoice.Lent }, s_rule with { Alpha = 0.01 }, s_rule with { Look = 1 }, s_rule with { Scale = PropertyScale.Linear }, s_rule with { Better = GoodDirection.Lower },
            s_rule with { SessionSdHrc = 0.2 }, s_rule with { SessionSdHrc = 0.2, SessionSdFrom = "checks of a tester" }, s_rule with { SeparateSessions = true }, s_rule with { LadderSlope = true }, s_rule with { TrendFamily = "powder" },
            s_rule with { PlannedCouponsPerLot = 10 }, s_rule with { HistoryDigest = "ab" },
            s_rule with { FurtherPrimaries = [s_hardness] }, s_rule with { Secondaries = [s_hardness] }, s_rule with { Secondaries = [s_hardness with { Margin = new Margin.Absolute(2, "HRC") }] },
            s_rule with { Secondaries = [s_hardness with { Better = GoodDirection.Higher }] }, s_rule with { Secondaries = [s_hardness with { Scale = PropertyScale.Logarithmic }] },
        ];
        Assert.Equal(rules.Length, rules.Select(RuleText.Digest).Distinct().Count());
        // Every term of a rule is in the list above.
        Assert.Equal(18, typeof(DecisionRule).GetProperties().Length);
    }

    [Fact]
    public void The_text_is_the_same_in_every_culture()
    {
        string before = RuleText.Write(s_rule);
        CultureInfo culture = CultureInfo.CurrentCulture;
        CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
        try
        {
            Assert.Equal(before, RuleText.Write(s_rule));
        }
        finally
        {
            CultureInfo.CurrentCulture = culture;
        }
    }
}
