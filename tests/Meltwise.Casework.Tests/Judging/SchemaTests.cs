using System.Text.Json;
using Json.Schema;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Xunit;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>Every verdict fits the shipped JSON Schema, which allows no key that it does not name.</summary>
public sealed class SchemaTests
{
    private static readonly JsonSchema s_schema = JsonSchema.FromText(VerdictJson.Schema());

    public static TheoryData<string> Cases => [.. OracleCases.Names];

    [Theory]
    [MemberData(nameof(Cases))]
    public void The_cases_of_the_oracle(string name) => Fits(OracleCases.Input(OracleCases.Case(name)));

    [Fact]
    public void A_linear_scale_with_exclusions_and_an_earlier_pair()
    {
        CouponRow[] rows = [.. Coupons.Lot("K17", [61.8, 62.0, 62.3, 61.9], property: "retained austenite", unit: "vol%"), .. Coupons.Lot("M03", [62.4, 62.9, 62.2, 62.6], property: "retained austenite", unit: "vol%")];
        rows[1] = rows[1] with { State = CouponState.Excluded, Cause = "grinding burn" };
        rows[7] = rows[7] with { State = CouponState.Invalid, Cause = "jammed in the machine" };
        Fits(Coupons.Input(rows, new() { Property = "retained austenite", Margin = new Margin.Absolute(3, "vol%") }));
    }

    [Fact]
    public void A_bent_trend() => Fits(BentTrendTests.Input(-0.04, 63.0, 63.8));

    [Fact]
    public void An_unknown_key_is_refused()
    {
        string json = VerdictJson.Write(Comparison.Judge(OracleCases.Input(OracleCases.Case("equivalent")), TestContext.Current.CancellationToken));
        Assert.False(Valid(json.Replace("\"asTested\"", "\"asTasted\"", StringComparison.Ordinal)));
    }

    private static void Fits(ComparisonInput input)
    {
        string json = VerdictJson.Write(Comparison.Judge(input, TestContext.Current.CancellationToken));
        Assert.True(Valid(json), json);
    }

    private static bool Valid(string json)
    {
        using JsonDocument document = JsonDocument.Parse(json);
        return s_schema.Evaluate(document.RootElement).IsValid;
    }
}
