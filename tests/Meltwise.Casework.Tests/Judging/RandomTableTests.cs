using System.Text.Json;
using CsCheck;
using Json.Schema;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>Whatever a table holds, judging gives a verdict that fits the schema, or a fault in words: never another exception, never a number that is none.</summary>
public sealed class RandomTableTests
{
    private static readonly JsonSchema s_schema = JsonSchema.FromText(VerdictJson.Schema(), new BuildOptions { SchemaRegistry = new() });

    private static readonly Gen<double> s_value = Gen.OneOf(Gen.Double[10, 90].Select(v => Math.Round(v, 1)), Pick(40.0, 40.0, 0.1, 599.0));

    private static readonly Gen<CouponState> s_state = Gen.Frequency((12, Gen.Const(CouponState.Valid)), (1, Pick(CouponState.Invalid, CouponState.Excluded, CouponState.NotBroken, CouponState.NotDone)));

    private static Gen<T> Pick<T>(params T[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);

    private static Gen<string?> Maybe(params string[] names) => Gen.Frequency((6, Gen.Const((string?)names[0])), (2, Pick(names).Select(n => (string?)n)), (1, Gen.Const((string?)null)));

    private static readonly Gen<CouponRow> s_row = Gen.Select(s_value, Gen.Double[58, 65], s_state, Maybe("P", "Q", "R"), Maybe("A", "B"), Maybe("L", "T"), Maybe("hardened one way", "another way"), Gen.Int[0, 20])
        .Select((value, hrc, state, source, load, orientation, treatment, dice) => new CouponRow
        {
            Heat = "",
            Coupon = "",
            Source = source,
            Load = dice < 10 ? load : null,
            Orientation = dice == 0 ? orientation : "L",
            Treatment = dice < 3 ? treatment : "hardened one way",
            State = state,
            Cause = dice % 2 == 0 ? "grinding burn" : null,
            ExcludedBeforeKeyOpened = dice % 3 == 0 ? null : dice % 3 == 1,
            Hardness = dice == 7 ? [] : [CensoredValue.Of(Math.Round(hrc, 1), "HRC")],
            Readings = dice == 9 ? new Dictionary<string, IReadOnlyList<CensoredValue>>() : Readings(value, dice),
        });

    private static readonly Gen<DecisionRule> s_rule = Gen.Select(Gen.Enum<Question>(), Gen.Enum<Estimand>(), Gen.Enum<ScatterChoice>(), Gen.Int[0, 3], Gen.Bool).Select((question, estimand, scatter, margin, flag) => new DecisionRule
    {
        Property = "impact energy",
        Question = question,
        Estimand = estimand,
        Scatter = scatter,
        SeparateSessions = flag,
        SessionSdHrc = flag ? 0.2 : null,
        Look = flag ? 1 : null,
        LadderSlope = flag && margin == 0,
        Margin = margin switch { 0 => new Margin.Ratio(0.8, 1.25), 1 => new Margin.Absolute(6, "J"), 2 => new Margin.InHardness(1.5), _ => new Margin.Absolute(60, "ft·lbf") },
        Scale = margin == 3 ? PropertyScale.Linear : null,
        FurtherPrimaries = flag ? [new("hardness", new Margin.Absolute(1, "HRC"))] : null,
        Secondaries = margin == 2 ? [new("wear loss", new Margin.Ratio(0.8, 1.25))] : null,
    });

    [Fact]
    public void Every_table_gives_a_verdict_or_a_fault_in_words() =>
        Gen.Select(s_row.Array[0, 26], s_row.Array[0, 120], s_rule, Gen.Int[2, 4], Gen.Int[0, 3]).Sample((lots, history, rule, heats, tidy) =>
        {
            if (tidy > 0) lots = [.. lots.Select(Tidy)];
            if (tidy == 3) lots = [.. lots.Select((r, i) => OnALadder(r, i / heats))];
            string[] names = ["K17", "M03", "K18", "M04"];
            ComparisonInput input = new()
            {
                Lots = new([.. lots.Select((r, i) => r with { Heat = names[i % heats], Coupon = $"{i}" })], new HashSet<string>(["source", "load", "orientation", "treatment"]), "coupons.csv"),
                History = history.Length < 10 ? null : new([.. history.Select((r, i) => r with { Heat = $"H{i % 17}", Coupon = $"{i}" })], new HashSet<string>(["source", "orientation", "treatment"]), "history.csv"),
                Rule = rule,
                ReferenceHeats = [.. names.Take(heats).Where(n => n[0] == 'K')],
                CandidateHeats = [.. names.Take(heats).Where(n => n[0] == 'M')],
            };
            Verdict verdict;
            try
            {
                verdict = Comparison.Judge(input, CancellationToken.None);
            }
            catch (ComparisonFaultException fault)
            {
                Assert.EndsWith(".", fault.Message, StringComparison.Ordinal);
                return;
            }
            string json = VerdictJson.Write(verdict);
            using JsonDocument document = JsonDocument.Parse(json);
            Assert.True(s_schema.Evaluate(document.RootElement).IsValid, json);
            Assert.NotEmpty(verdict.Finding.Text);
            Assert.Equal(verdict.Finding.Outcome == Outcome.NoVerdict, verdict.Finding.Reason is not null);
            Assert.Equal(json, VerdictJson.Write(VerdictJson.Read(json)));
        }, iter: 1000);

    /// <summary>Three tables of four are tidy, so that the later steps are reached as well as the gates.</summary>
    private static CouponRow Tidy(CouponRow row, int index) => row with
    {
        State = CouponState.Valid,
        Orientation = "L",
        Treatment = "hardened one way",
        Source = index % 2 == 0 ? "P" : "R",
        Hardness = [CensoredValue.Of(60 + index % 7 * 0.3, "HRC")],
        Readings = row.Readings.Count > 0 ? new Dictionary<string, IReadOnlyList<CensoredValue>> { ["impact energy"] = [.. row.Readings["impact energy"].Select(r => r with { Censoring = Censoring.None })] } : row.Readings,
    };

    /// <summary>One table of four is a temper ladder, softer with every level.</summary>
    private static CouponRow OnALadder(CouponRow row, int level) => row with { Treatment = $"tempered at {180 + level % 3 * 30} °C", Hardness = [CensoredValue.Of(row.Hardness[0].Value - level % 3, "HRC")] };

    private static Dictionary<string, IReadOnlyList<CensoredValue>> Readings(double value, int dice)
    {
        CensoredValue reading = CensoredValue.Of(value, dice == 11 ? "ft·lbf" : "J");
        return new() { ["impact energy"] = dice switch { 12 => [reading with { Censoring = Censoring.Above }], 13 => [reading, reading], 14 => [reading with { Censoring = Censoring.Below }], _ => [reading] } };
    }
}
