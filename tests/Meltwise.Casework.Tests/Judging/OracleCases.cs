using System.Text.Json;
using Meltwise.Casework.Judging;
using Meltwise.Domain;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>Turns a case of Oracles/verdict/verdict.json into an input of the comparison.</summary>
internal static class OracleCases
{
    private static readonly JsonElement s_document = Load();

    public static IEnumerable<string> Names => s_document.GetProperty("cases").EnumerateArray().Select(c => c.GetProperty("name").GetString()!);

    public static JsonElement Case(string name) => s_document.GetProperty("cases").EnumerateArray().First(c => c.GetProperty("name").GetString() == name);

    public static ComparisonInput Input(JsonElement oracleCase)
    {
        JsonElement input = oracleCase.GetProperty("input"), rule = input.GetProperty("rule");
        CouponTable lots = Table(input.GetProperty("coupons"), "coupons.csv");
        JsonElement named = input.GetProperty("candidate");
        string[] candidates = named.ValueKind == JsonValueKind.Array ? [.. named.EnumerateArray().Select(c => c.GetString()!)] : [named.GetString()!];
        CouponTable? history = input.TryGetProperty("history", out JsonElement h) && h.ValueKind == JsonValueKind.String
            ? Table(s_document.GetProperty("histories").GetProperty(h.GetString()!), "history.csv") : null;
        return new()
        {
            Lots = lots,
            History = history,
            CandidateHeats = candidates,
            ReferenceHeats = [.. lots.Rows.Select(r => r.Heat).Distinct().Except(candidates)],
            Rule = Rule(rule),
        };
    }

    private static DecisionRule Rule(JsonElement rule)
    {
        string Text(string name, string otherwise) => rule.TryGetProperty(name, out JsonElement e) ? e.GetString()! : otherwise;
        double Number(string name, double otherwise) => rule.TryGetProperty(name, out JsonElement e) ? e.GetDouble() : otherwise;
        return new()
        {
            Property = "impact energy",
            Margin = Text("marginKind", "ratio") switch
            {
                "absolute" => new Margin.Absolute(Number("marginAbs", 0), "J"),
                "hardness" => new Margin.InHardness(Number("marginHrc", 0)),
                _ => new Margin.Ratio(Number("marginLow", 0), Number("marginHigh", 0)),
            },
            Question = Text("question", "equivalent") switch { "not-worse" => Question.NotWorse, "better" => Question.Better, "difference" => Question.Difference, _ => Question.Equivalent },
            Estimand = Text("estimand", "as-tested") switch { "equal-hardness" => Estimand.EqualHardness, "sources" => Estimand.Sources, _ => Estimand.AsTested },
            Scatter = Text("scatter", "own") == "lent" ? ScatterChoice.Lent : ScatterChoice.Own,
            Alpha = Number("alpha", 0.05),
            SessionSdHrc = Number("sessionSd", 0),
            Better = rule.TryGetProperty("higherIsBetter", out JsonElement better) && !better.GetBoolean() ? GoodDirection.Lower : GoodDirection.Higher,
        };
    }

    private static CouponTable Table(JsonElement columns, string name)
    {
        string?[] Texts(string column) => columns.TryGetProperty(column, out JsonElement e) ? [.. e.EnumerateArray().Select(v => v.GetString())] : [];
        double[] Numbers(string column) => columns.TryGetProperty(column, out JsonElement e) ? [.. e.EnumerateArray().Select(v => v.GetDouble())] : [];
        string?[] heat = Texts("heat"), source = Texts("source"), coupon = Texts("coupon"), load = Texts("load"), kind = Texts("kind"), stratum = Texts("stratum");
        double[] value = Numbers("value"), hardness = Numbers("hardness");
        List<CouponRow> rows = [];
        for (int i = 0; i < value.Length; i++)
        {
            Censoring censoring = kind.Length == 0 ? Censoring.None : kind[i] switch { "above" => Censoring.Above, "below" => Censoring.Below, _ => Censoring.None };
            rows.Add(new()
            {
                Heat = heat[i]!,
                Coupon = coupon[i]!,
                Source = source.Length > 0 ? source[i] : null,
                Load = load.Length > 0 ? load[i] : null,
                Orientation = stratum.Length > 0 ? stratum[i] : null,
                Hardness = hardness.Length > 0 ? [CensoredValue.Of(hardness[i], "HRC")] : [],
                Readings = new Dictionary<string, IReadOnlyList<CensoredValue>> { ["impact energy"] = [CensoredValue.Of(value[i], "J") with { Censoring = censoring }] },
            });
        }
        HashSet<string> present = ["source"];
        if (load.Length > 0) present.Add("load");
        if (stratum.Length > 0) present.Add("orientation");
        return new(rows, present, name);
    }

    private static JsonElement Load()
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Oracles", "verdict", "verdict.json")));
        return document.RootElement.Clone();
    }
}
