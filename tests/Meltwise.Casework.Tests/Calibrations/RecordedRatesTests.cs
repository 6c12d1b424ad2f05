using System.Globalization;
using System.Text.Json;
using Meltwise.Calibrations;
using Xunit;

namespace Meltwise.Casework.Tests.Calibrations;

/// <summary>Error rates and coverage against Oracles/verdict/error_rates.json: an independent program (numpy, its own generator, 10000 to 40000 replicates) and the product's own steps, in reduced form; at full size by recorded-rates of the bench.</summary>
public sealed class RecordedRatesTests
{
    private static readonly JsonElement s_root = Load();
    private static readonly IReadOnlyList<RecordedKind> s_kinds = RecordedRates.Of(s_root);

    public static TheoryData<string> Kinds => [.. s_kinds.Select(k => k.Kind)];

    // 4.5 combined Monte-Carlo errors: no chance alarm is expected among some 6000 rates; the share beyond 3 is held to what chance gives.
    [Theory]
    [MemberData(nameof(Kinds))]
    public void Rates_agree(string name)
    {
        RecordedKind kind = s_kinds.Single(k => k.Kind == name);
        List<RecordedDifference> all = [];
        for (int row = 0; row < kind.Table.Designs.Count; row += kind.Table.ReducedStride) all.AddRange(kind.Compare(row, kind.Table.Reduced));
        Assert.NotEmpty(all);
        string[] failing = [.. all.Where(d => d.Errors > 4.5).Select(d => string.Create(CultureInfo.InvariantCulture, $"{d.Name}: {d.Recorded} recorded, {d.Ours:F4} seen, {d.Errors:0.0} errors"))];
        Assert.True(failing.Length == 0, string.Join(Environment.NewLine, failing));
        Assert.True(all.Count(d => d.Errors > 3) <= 2 + 0.01 * all.Count, $"{all.Count(d => d.Errors > 3)} of {all.Count} rates lie beyond three errors.");
    }

    // Two programs that agreed on a mistake of one of them would still differ here: each kind as a whole, where the rates' errors average out.
    [Theory]
    [InlineData("as tested, own variances")]
    [InlineData("as tested, one variance (a choice of how firm)")]
    public void No_kind_is_off_as_a_whole(string name)
    {
        RecordedKind kind = s_kinds.Single(k => k.Kind == name);
        RecordedDifference[] all = [.. Enumerable.Range(0, kind.Table.Designs.Count).SelectMany(row => kind.Compare(row, kind.Table.Reduced))];
        Assert.InRange(all.Average(d => d.Ours - d.Recorded), -0.003, 0.003);
    }

    [Fact]
    public void Every_row_is_compared_or_named_as_not_ours()
    {
        int Rows(string block, string list, Func<JsonElement, bool> which) => s_root.GetProperty(block).GetProperty(list).EnumerateArray().Count(which);
        string? Method(JsonElement r) => r.GetProperty("method").GetString();
        int Groups(JsonElement r) => r.GetProperty("groups").GetInt32();
        Dictionary<string, int> compared = s_kinds.ToDictionary(k => k.Kind, k => k.Table.Designs.Count);
        Dictionary<(string, string), int> not = RecordedRates.Rejected.ToDictionary(r => (r.Block, r.What), r => r.Rows);

        Assert.Equal(Rows("asTested", "rows", _ => true), compared["as tested, own variances"] + compared["as tested, one variance (a choice of how firm)"]);
        Assert.Equal(Rows("historyInAsTested", "rows", _ => true), compared["as tested beside a history, own variances"] + compared["scatter lent by the bench"] + compared["scale of the scatter law (a choice of how firm)"]
            + not[("historyInAsTested", "lent scatter without the guard")] + not[("historyInAsTested", "lent scatter from a history of 6 groups")]);
        Assert.Equal(not[("historyInAsTested", "lent scatter from a history of 6 groups")], Rows("historyInAsTested", "rows", r => Method(r) == "lent" && Groups(r) == 6));
        Assert.Equal(Rows("historyInAsTested", "exponent", _ => true), compared["exponent of the scatter law"]);
        Assert.Equal(Rows("equalHardness", "rows", _ => true), compared["equal hardness"]);
        Assert.Equal(Rows("sources", "rows", _ => true), compared["sources, one heat each"] + not[("sources", "4 and 6 old heats")]);
        Assert.Equal(Rows("sources", "newcomer", _ => true), compared["sources, a newcomer"]);
        Assert.Equal(Rows("sources", "severalHeats", _ => true), compared["sources, several heats each and no history"]);
        Assert.Equal(Rows("extension", "rows", _ => true), compared["planned extension, error rate split"] + compared["extension planned and not made"] + not[("extension", "no split of the error rate")]);
        Assert.Equal(Rows("marginInHardness", "rows", _ => true), compared["margin in hardness"]);
        Assert.Equal(Rows("loads", "rows", _ => true), compared["as tested, compared within furnace loads"] + compared["as tested, loads ignored (a choice of how firm)"] + not[("loads", "each lot in a load of its own")]);
    }

    private static JsonElement Load()
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Oracles", "verdict", "error_rates.json")));
        return document.RootElement.Clone();
    }
}
