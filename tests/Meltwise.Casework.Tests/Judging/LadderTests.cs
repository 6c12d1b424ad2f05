using System.Text.Json;
using CsCheck;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Evidence;
using Xunit;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>Equal hardness over a temper ladder of both lots: Oracles/ladder (R, lm), laws of the comparison, and its gates.</summary>
public sealed class LadderTests
{
    // R prints 15 significant digits; an orthogonal fit of 24 rows keeps 11 of them.
    private static readonly Digits s_digits = new(11);
    private static readonly JsonElement s_oracle = Load();

    public static TheoryData<string> Parallel => ["ladder", "uneven", "two heats in a role", "margin in hardness"];

    [Theory]
    [MemberData(nameof(Parallel))]
    public void Agrees_with_lm(string name)
    {
        JsonElement expected = Expected(name);
        EqualHardness b = Judge(Case(name)).EqualHardness!;
        double Want(string key) => expected.GetProperty(key).GetDouble();
        Digits.Agree(Want("logRatio"), b.LogRatio, s_digits, "ln ratio");
        Digits.Agree(Want("standardError"), b.StandardError, s_digits, "standard error");
        Assert.Equal(Want("degreesOfFreedom"), b.DegreesOfFreedom);
        Digits.Agree(expected.GetProperty("wide")[0].GetDouble(), b.Ratio!.Lower, s_digits, "wide, lower");
        Digits.Agree(expected.GetProperty("narrow")[1].GetDouble(), b.RatioForMargin!.Upper, s_digits, "narrow, upper");
        Digits.Agree(Want("pDifference"), b.PDifference, new(10), "p of a difference");
        Digits.Agree(Want("pEquivalence"), b.PEquivalence, new(9), "p of equivalence");
        Digits.Agree(Want("slope"), b.LogPerHrc!.Estimate, s_digits, "slope");
        Digits.Agree(Want("slopeSe"), b.LogPerHrc.StandardError, s_digits, "its standard error");
        Digits.Agree(expected.GetProperty("slopeInterval")[1].GetDouble(), b.LogPerHrc.Upper, s_digits, "its upper limit");
        Digits.Agree(Want("residualSd"), b.ResidualSd, s_digits, "residual");
        Digits.Agree(Want("hardnessDifference"), b.HardnessDifference, s_digits, "difference in hardness");
        Digits.Agree(Want("parallelismF"), b.Ladder!.ParallelismF, new(7), "F of parallel lines");
        Digits.Agree(Want("parallelismP"), b.Ladder.ParallelismP, new(9), "p of parallel lines");
        Assert.Equal(Want("parallelismDf"), b.Ladder.ParallelismDf);
        Digits.Agree(expected.GetProperty("overlap")[0].GetDouble(), b.Ladder.Overlap[0], s_digits, "overlap");
        Assert.Equal("within the lots, between levels of a temper ladder", b.SlopeKind);
    }

    [Fact]
    public void A_margin_in_hardness_is_two_exact_contrasts_of_the_fit()
    {
        JsonElement expected = Expected("margin in hardness");
        MarginContrasts found = Judge(Case("margin in hardness")).EqualHardness!.MarginContrasts!;
        foreach ((string side, MarginContrast contrast) in new[] { ("lower", found.Lower), ("upper", found.Upper) })
        {
            Digits.Agree(expected.GetProperty(side).GetProperty("estimate").GetDouble(), contrast.Estimate, s_digits, side);
            Digits.Agree(expected.GetProperty(side).GetProperty("standardError").GetDouble(), contrast.StandardError, s_digits, side);
            Assert.Equal(21, contrast.DegreesOfFreedom);
        }
    }

    [Fact]
    public void The_verdict_is_that_of_equal_hardness_and_the_lots_as_tested_are_refused()
    {
        Verdict verdict = Judge(Case("ladder"));
        Assert.Equal(Outcome.Equivalent, verdict.Finding.Outcome);
        Assert.Equal(Reason.StrataDiffer, verdict.AsTested!.Refused);
        Assert.Equal(Reason.StrataDiffer, verdict.Sources!.Refused);
        Assert.Equal(6, verdict.EqualHardness!.Ladder!.Levels.Count);
        Assert.Contains("within the lots, between levels of a temper ladder, between 59.6 and 61.7 HRC; parallel lines: p = 0.98", verdict.Finding.Text, StringComparison.Ordinal);
        Assert.Contains(verdict.Finding.MayNotClaim, c => c.StartsWith("Anything outside 59.6 to 61.7 HRC", StringComparison.Ordinal));
        Assert.Equal(["anyOneCouponLeftOut", "ownSlopes", "slopeCorrected"], verdict.Variants!.Outcomes.Keys);
        Assert.All(verdict.Lots.SelectMany(l => l.Coupons), c => Assert.NotNull(c.ChangeWithoutIt));
    }

    [Fact]
    public void As_tested_by_the_rule_there_is_no_verdict_and_equal_hardness_is_shown_beside()
    {
        ComparisonInput input = Case("ladder");
        Verdict verdict = Judge(input with { Rule = input.Rule with { Estimand = Estimand.AsTested } });
        Assert.Equal((Outcome.NoVerdict, Reason.StrataDiffer), (verdict.Finding.Outcome, verdict.Finding.Reason));
        Assert.True(verdict.EqualHardness!.Stands);
    }

    [Fact]
    public void Lines_that_are_not_parallel_give_no_one_ratio()
    {
        Verdict verdict = Judge(Case("lines that cross"));
        Assert.Equal((Outcome.NoVerdict, Reason.StrataDiffer), (verdict.Finding.Outcome, verdict.Finding.Reason));
        Digits.Agree(Expected("lines that cross").GetProperty("parallelismP").GetDouble(), verdict.EqualHardness!.Ladder!.ParallelismP, new(7), "p of parallel lines");
        Assert.Contains("are not parallel (p < 0.001), so that no one ratio holds at equal hardness", verdict.Finding.Text, StringComparison.Ordinal);
        Assert.Null(verdict.EqualHardness.Ratio);
    }

    [Fact]
    public void A_history_does_not_enter_and_its_slope_is_held_against_the_ladders()
    {
        ComparisonInput bare = Case("ladder"), with = bare with { History = OracleCases.Input(OracleCases.Case("as-tested-with-history")).History };
        Verdict a = Judge(bare), b = Judge(with);
        Assert.Equal(a.EqualHardness!.Ratio, b.EqualHardness!.Ratio);
        Assert.Null(a.EqualHardness.Ladder!.BetweenHeats);
        Assert.InRange(b.EqualHardness.Ladder!.BetweenHeats!.PEqual, 0, 1);
        Assert.Contains(b.EqualHardness.Notes, n => n.StartsWith("Slope between heats of the history", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(Reason.StrataDiffer, "one in common")]
    [InlineData(Reason.NoHardness, "Hardness of M03 at 220C is missing")]
    [InlineData(Reason.MixedHardnessScales, "another scale than HRC")]
    [InlineData(Reason.OutsideTheTrend, "do not overlap in hardness")]
    [InlineData(Reason.HardnessSpreadTooSmall, "hardly more than its error")]
    [InlineData(Reason.TooManyCensored, "only a bound")]
    [InlineData(Reason.ConfoundedLoads, "No furnace load holds both lots")]
    [InlineData(Reason.ZeroScatter, "lie on the lines exactly")]
    public void Gates(Reason reason, string missing)
    {
        ComparisonInput input = Case("ladder");
        CouponRow[] rows = [.. input.Lots.Rows.Select((r, i) => Spoil(r, i, reason))];
        EqualHardness b = Judge(input with { Lots = input.Lots with { Rows = rows } }).EqualHardness!;
        Assert.Equal(reason, b.Refused);
        Assert.Contains(missing, b.Missing, StringComparison.OrdinalIgnoreCase);
        Assert.Null(b.Ratio);
    }

    private static CouponRow Spoil(CouponRow r, int place, Reason reason) => reason switch
    {
        Reason.StrataDiffer => r.Heat == "M03" ? r with { Treatment = r.Treatment == "220C" ? "220C" : "300C" } : r,
        Reason.NoHardness => r is { Heat: "M03", Treatment: "220C" } ? r with { Hardness = [] } : r,
        Reason.MixedHardnessScales => place == 3 ? r with { Hardness = [CensoredValue.Of(740, "HV")] } : r,
        Reason.OutsideTheTrend => r.Heat == "M03" ? r with { Hardness = [CensoredValue.Of(r.Hardness[0].Value + 6, "HRC")] } : r,
        Reason.HardnessSpreadTooSmall => r with { Hardness = [CensoredValue.Of(61 + place % 4 * 0.5 + (r.Treatment == "180C" ? 0.1 : 0), "HRC")] },
        Reason.TooManyCensored => place == 5 ? r with { State = CouponState.NotBroken } : r,
        Reason.ConfoundedLoads => r with { Load = r.Heat },
        _ => r with { Hardness = [CensoredValue.Of(r.Treatment == "180C" ? 62 : 60, "HRC")], Readings = Energy(r.Treatment == "180C" ? 30 : 40) },
    };

    [Fact]
    public void Low_and_high_temper_are_not_one_ladder()
    {
        ComparisonInput input = Case("ladder");
        Verdict verdict = Judge(input with { Lots = input.Lots with { Rows = [.. input.Lots.Rows.Select(r => r with { TemperFamily = r.Treatment == "260C" ? "high" : "low" })] } });
        Assert.Equal(Reason.StrataDiffer, verdict.EqualHardness!.Refused);
        Assert.Contains("temper family", verdict.EqualHardness.Missing, StringComparison.Ordinal);
    }

    // Four heats have no trend between heats; a ladder that the rule names needs none.
    [Fact]
    public void A_ladder_of_the_history_is_used_where_the_rule_names_it()
    {
        ComparisonInput input = Case("named by the rule");
        JsonElement expected = Expected("named by the rule");
        Assert.Equal(Reason.TooFewHeats, Judge(input).Finding.Reason);
        Verdict verdict = Judge(input with { Rule = input.Rule with { LadderSlope = true } });
        EqualHardness b = verdict.EqualHardness!;
        Digits.Agree(expected.GetProperty("slope").GetDouble(), b.LogPerHrc!.Estimate, s_digits, "slope");
        Digits.Agree(expected.GetProperty("slopeSe").GetDouble(), b.LogPerHrc.StandardError, new(10), "its standard error");
        Assert.Equal(expected.GetProperty("slopeDf").GetDouble(), b.LogPerHrc.DegreesOfFreedom);
        Digits.Agree(expected.GetProperty("logRatio").GetDouble(), b.LogRatio, s_digits, "ln ratio");
        Digits.Agree(expected.GetProperty("standardError").GetDouble(), b.StandardError, s_digits, "standard error");
        Digits.Agree(expected.GetProperty("degreesOfFreedom").GetDouble(), b.DegreesOfFreedom, new(10), "degrees of freedom");
        Assert.Equal("between treatments of a heat", b.SlopeKind);
        Assert.Equal(["pooledVariance"], verdict.Variants!.Outcomes.Keys);
        Assert.Contains("slope −", verdict.Finding.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(verdict.Finding.MayNotClaim, c => c.Contains("tuned", StringComparison.Ordinal));
    }

    private static readonly Gen<double[]> s_energies = Gen.Double[20, 60].Select(v => Math.Round(v, 1)).Array[24];

    [Fact]
    public void Swapped_roles_invert_the_ratio() => s_energies.Sample(energies =>
    {
        ComparisonInput input = With(energies);
        EqualHardness a = Judge(input).EqualHardness!, b = Judge(input with { ReferenceHeats = input.CandidateHeats, CandidateHeats = input.ReferenceHeats }).EqualHardness!;
        Assert.Equal(a.Refused, b.Refused);
        if (!a.Stands) return;
        Assert.Equal(a.Ratio!.Lower, 1 / b.Ratio!.Upper, 1e-9 * a.Ratio.Lower);
        Assert.Equal(a.Outcome, b.Outcome switch { Outcome.Better => Outcome.Worse, Outcome.Worse => Outcome.Better, _ => b.Outcome });
    }, iter: 100);

    [Fact]
    public void Change_of_unit_changes_nothing() => s_energies.Sample(energies =>
    {
        ComparisonInput joules = With(energies);
        ComparisonInput foot = joules with { Lots = joules.Lots with { Rows = [.. joules.Lots.Rows.Select(r => r with { Readings = Energy(r.Readings["impact energy"][0].Value / PropertyTable.JoulesPerFootPound, "ft·lbf") })] } };
        EqualHardness a = Judge(joules).EqualHardness!, b = Judge(foot).EqualHardness!;
        Assert.Equal(a.Outcome, b.Outcome);
        if (a.Stands) Assert.Equal(a.PerHrc!.Estimate, b.PerHrcOtherUnit!.Estimate, 1e-8);
    }, iter: 60);

    [Fact]
    public void Order_of_rows_changes_not_a_single_digit() => Gen.Select(s_energies, Gen.Int[0, 1000]).Sample((energies, seed) =>
    {
        ComparisonInput input = With(energies);
        CouponRow[] mixed = [.. input.Lots.Rows];
        new Random(seed).Shuffle(mixed);
        Assert.Equal(VerdictJson.Write(Judge(input)), VerdictJson.Write(Judge(input with { Lots = input.Lots with { Rows = mixed } })));
    }, iter: 60);

    private static ComparisonInput With(double[] energies)
    {
        ComparisonInput input = Case("ladder");
        return input with { Lots = input.Lots with { Rows = [.. input.Lots.Rows.Select((r, i) => r with { Readings = Energy(energies[i]) })] } };
    }

    private static Dictionary<string, IReadOnlyList<CensoredValue>> Energy(double value, string unit = "J") => new() { ["impact energy"] = [CensoredValue.Of(value, unit)] };

    private static JsonElement Expected(string name) => Find(name).GetProperty("expected");

    private static JsonElement Find(string name) => s_oracle.GetProperty("cases").EnumerateArray().First(c => c.GetProperty("name").GetString() == name);

    private static ComparisonInput Case(string name)
    {
        JsonElement found = Find(name);
        CouponTable lots = Table(found.GetProperty("rows"), "coupons.csv");
        Margin margin = found.TryGetProperty("hrc", out JsonElement hrc) ? new Margin.InHardness(hrc.GetDouble()) : new Margin.Ratio(found.GetProperty("margin")[0].GetDouble(), found.GetProperty("margin")[1].GetDouble());
        return new()
        {
            Lots = lots,
            History = found.TryGetProperty("history", out JsonElement history) ? Table(history, "history.csv") : null,
            Rule = new() { Property = "impact energy", Margin = margin, Estimand = Estimand.EqualHardness },
            ReferenceHeats = ["K17"],
            CandidateHeats = [.. lots.Rows.Select(r => r.Heat).Distinct().Where(h => h[0] == 'M')],
        };
    }

    private static CouponTable Table(JsonElement rows, string name) => new(
        [.. rows.EnumerateArray().Select((r, i) => new CouponRow
        {
            Heat = r.GetProperty("heat").GetString()!,
            Coupon = $"{i + 1:D2}",
            Source = r.GetProperty("heat").GetString()![..1],
            Treatment = r.GetProperty("treatment").GetString(),
            Hardness = [CensoredValue.Of(r.GetProperty("hrc").GetDouble(), "HRC")],
            Readings = Energy(r.GetProperty("y").GetDouble()),
        })], new HashSet<string>(["source", "treatment"]), name);

    private static Verdict Judge(ComparisonInput input) => Comparison.Judge(input, CancellationToken.None);

    private static JsonElement Load()
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Oracles", "ladder", "ladder.json")));
        return document.RootElement.Clone();
    }
}
