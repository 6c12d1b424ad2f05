using System.Text.Json;

namespace Meltwise.Calibrations;

/// <summary>Rates of one kind that another program simulated, and the same designs simulated here by the product's own steps.</summary>
/// <param name="Kind">What is compared, in words.</param>
/// <param name="How">Which steps of the product simulate it, and where it does not do quite the same.</param>
/// <param name="Table">Designs of the product's simulation; its columns are the rates compared.</param>
/// <param name="Recorded">For each design the other program's rates and their Monte-Carlo standard errors, in the order of the columns.</param>
/// <param name="Allowance">By how much the two may differ beyond Monte-Carlo error, for the reason told.</param>
internal sealed record RecordedKind(string Kind, string How, RateTable Table, IReadOnlyList<(double Value, double Error)[]> Recorded, double Allowance = 0)
{
    /// <summary>Runs a design and gives each rate beside the recorded one.</summary>
    /// <param name="row">The design.</param>
    /// <param name="replicates">Replicates.</param>
    public IEnumerable<RecordedDifference> Compare(int row, int replicates)
    {
        Rate[] rates = Table.Run(row, replicates);
        for (int c = 0; c < rates.Length; c++)
            if (rates[c].Tried > 0) yield return new($"{Table.Designs[row].Name}, {Table.Columns[c].Name}", Recorded[row][c].Value, rates[c].Value, Combined(Recorded[row][c], rates[c].Tried), Allowance);
    }

    /// <summary>Both rates scatter about one truth; its variance is taken from the recorded rate, which rests on more replicates, and is not below that of four events, below which counts are skewed.</summary>
    private static double Combined((double Value, double Error) recorded, long tried)
    {
        double p = Math.Clamp(recorded.Value, 4.0 / tried, 1 - 4.0 / tried);
        return Math.Sqrt(recorded.Error * recorded.Error + p * (1 - p) / tried);
    }
}

/// <summary>One rate of both programs.</summary>
/// <param name="Name">Design and rate.</param>
/// <param name="Recorded">The other program's.</param>
/// <param name="Ours">The product's.</param>
/// <param name="Error">Combined Monte-Carlo standard error.</param>
/// <param name="Allowance">As <see cref="RecordedKind.Allowance"/>.</param>
internal readonly record struct RecordedDifference(string Name, double Recorded, double Ours, double Error, double Allowance)
{
    /// <summary>Difference beyond the allowance in combined standard errors.</summary>
    public double Errors => Math.Max(0, Math.Abs(Ours - Recorded) - Allowance) / Error;
}

/// <summary>What the other program simulated that this product does not do.</summary>
/// <param name="Block">Block of the file.</param>
/// <param name="What">The rows or the rates in them.</param>
/// <param name="Rows">Number of rows.</param>
/// <param name="Why">Why the product does not have it.</param>
internal sealed record NotOurs(string Block, string What, int Rows, string Why);

/// <summary>All rates of Oracles/verdict/error_rates.json by kind.</summary>
internal static class RecordedRates
{
    /// <summary>The file, from the root of the repository.</summary>
    public const string File = "tests/Meltwise.Casework.Tests/Oracles/verdict/error_rates.json";

    /// <summary>Every kind that the product can produce.</summary>
    /// <param name="root">The file's root.</param>
    public static IReadOnlyList<RecordedKind> Of(JsonElement root) =>
        [.. RecordedLots.Of(root), .. RecordedHistory.Of(root.GetProperty("historyInAsTested")), .. RecordedBench.Of(root), RecordedMargins.Of(root.GetProperty("marginInHardness"))];

    /// <summary>Every kind that it does not.</summary>
    public static IReadOnlyList<NotOurs> Rejected { get; } =
    [
        new("historyInAsTested", "lent scatter without the guard", 100, "a scatter far above the law is never moderated away: false differences up to 14 %"),
        new("historyInAsTested", "lent scatter from a history of 6 groups", 100, "the product lends from 10 groups on and uses the lots' own scatter below"),
        new("equalHardness", "hardness ignored", 96, "the comparison as tested, which is another question and shown beside"),
        new("equalHardness", "slope taken as known", 96, "leaves out the slope's own error: covers 58 to 95 %"),
        new("equalHardness", "coupons pooled, heats ignored", 96, "takes coupons of a heat for independent heats: covers 81 to 95 %"),
        new("sources", "interval not widened, with a normal quantile, or with ν of the heats alone", 60, "leaves out heats, or how well their scatter is known"),
        new("sources", "4 and 6 old heats", 24, "refused: too few heats to know the scatter from heat to heat"),
        new("sources", "several heats, heats ignored", 24, "takes coupons for the unit: covers 64 to 95 %"),
        new("extension", "no split of the error rate", 18, "two looks at the full rate err in up to 8 %"),
        new("loads", "each lot in a load of its own", 6, "refused: lot and load cannot be separated"),
    ];

    internal static (double, double) Rate(JsonElement row, string name) => (row.GetProperty(name)[0].GetDouble(), row.GetProperty(name)[1].GetDouble());

    internal static double Number(JsonElement row, string name) => row.GetProperty(name).GetDouble();

    internal static int Count(JsonElement row, string name) => row.GetProperty(name).GetInt32();

    /// <summary>A kind whose rates stand in the row itself.</summary>
    internal static RecordedKind Kind(string kind, string how, string[] rates, IEnumerable<(JsonElement Row, JsonElement Rates, Design Design)> rows, int replicates, int reduced, int stride, long seed, double allowance = 0)
    {
        (JsonElement Row, JsonElement Rates, Design Design)[] all = [.. rows];
        RateTable table = new()
        {
            Name = kind,
            Title = kind,
            What = how,
            Columns = [.. rates.Select(RateColumn.Tells)],
            Designs = [.. all.Select(r => r.Design)],
            Replicates = replicates,
            Reduced = reduced,
            ReducedStride = stride,
            Seed = seed,
        };
        return new(kind, how, table, [.. all.Select(r => rates.Select(name => Rate(r.Rates, name)).ToArray())], allowance);
    }
}
