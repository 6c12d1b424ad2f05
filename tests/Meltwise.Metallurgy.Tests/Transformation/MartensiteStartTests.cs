using System.Text.Json;
using Meltwise.Evidence;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Transformation;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Transformation;

public sealed class MartensiteStartTests
{
    private static readonly Dictionary<string, MartensiteStartFormula> s_byOracleName = new(StringComparer.Ordinal)
    {
        ["Andrews1965_linear"] = MartensiteStartFormulas.Andrews,
        ["Andrews1965_product"] = MartensiteStartFormulas.AndrewsProduct,
        ["StevenHaynes1956"] = MartensiteStartFormulas.StevenHaynes,
        ["KungRayment1982"] = MartensiteStartFormulas.KungRayment,
        ["Tool_VW"] = MartensiteStartFormulas.WithVanadiumAndTungsten,
        ["FinklerSchirra1996"] = MartensiteStartFormulas.FinklerSchirra,
        ["Capdevila2002"] = MartensiteStartFormulas.Capdevila,
        ["vanBohemen2012"] = MartensiteStartFormulas.VanBohemen,
        ["Barbier2014"] = MartensiteStartFormulas.Barbier,
    };

    [Fact] // Oracles/property-chain: nine formulas on 14 austenites. The austenite is printed to 0.001 wt%, so 0.3 °C is rounding of the input,
           // and 0.7 °C for the form with products, whose slope at 13 % Cr is 1300 °C per wt% C.
    public void Every_formula_agrees_with_the_independent_program_on_every_austenite()
    {
        int compared = 0;
        foreach (JsonElement steel in WorkedValues.Block("martensiteStart").EnumerateArray())
        {
            AlloyContent austenite = WorkedValues.Alloy(steel.GetProperty("austenite"));
            foreach (JsonProperty p in steel.GetProperty("celsius").EnumerateObject())
            {
                double actual = s_byOracleName[p.Name].Celsius(austenite);
                double rounding = p.Name == "Andrews1965_product" ? 0.75 : 0.35;
                Assert.True(Math.Abs(actual - p.Value.GetDouble()) <= rounding, $"{steel.GetProperty("steel")} {p.Name}: {p.Value} against {actual:F2}.");
                compared++;
            }
        }
        Assert.Equal(14 * 9, compared);
    }

    [Fact] // Andrews, J. Iron Steel Inst. 203 (1965) 721, worked by hand: 539 - 253.8 - 9.12 - 72.6 - 3.75.
    public void Andrews_worked_by_hand() =>
        Digits.Agree(199.73, MartensiteStartFormulas.Andrews.Celsius(new() { C = 0.6, Mn = 0.3, Cr = 6, Mo = 0.5 }), new(12), "Andrews");

    [Fact]
    public void A_D2_austenite_says_which_formulas_it_is_outside_of()
    {
        MartensiteStartResult result = MartensiteStart.Of(new() { C = 0.561, Cr = 6.283, Mo = 0.571, V = 0.229, Mn = 0.359, Si = 0.341 });
        MartensiteStartEstimate andrews = Assert.Single(result.Estimates, e => e.Formula == MartensiteStartFormulas.Andrews);
        Assert.False(andrews.InRange);
        Assert.Contains("Cr 6.28 wt%", Assert.Single(andrews.RangeFaults), StringComparison.Ordinal);
        Assert.Equal(9, result.Estimates.Count);
        Assert.True(result.HalfWidthC >= 40);
        Assert.All(result.Estimates, e => Assert.NotEmpty(e.Formula.Source.Citation));
    }

    [Fact] // Two heats of D2 (C +0.02, Cr -0.15 in the austenite): the four tool-steel formulas, as the class promises for like steels.
    public void Formulas_agree_on_a_difference_far_better_than_on_a_value()
    {
        AlloyContent a = new() { C = 0.56, Cr = 6.3, Mo = 0.57, V = 0.23, Mn = 0.36, Si = 0.34 }, b = a;
        b.C += 0.02;
        double[] values = [.. MartensiteStartFormulas.ForToolSteel.Select(f => f.Celsius(a))];
        double[] differences = [.. MartensiteStartFormulas.ForToolSteel.Select(f => f.Celsius(b) - f.Celsius(a))];
        Assert.True(values.Max() - values.Min() > 20);
        Assert.All(differences, d => Assert.InRange(d / differences.Average(), 0.8, 1.2));
    }

    [Fact]
    public void The_central_value_is_the_mean_of_the_four()
    {
        AlloyContent a = new() { C = 0.72, Cr = 3.75, Mo = 0.893, V = 0.129, Mn = 0.698, Si = 0.311 };
        Digits.Agree(MartensiteStartFormulas.ForToolSteel.Average(f => f.Celsius(a)), MartensiteStart.CentralC(a), new(13), "central value");
    }
}
