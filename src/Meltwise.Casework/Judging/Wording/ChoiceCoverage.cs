namespace Meltwise.Casework.Judging;

/// <summary>How often the 95 % intervals behind other choices truly hold, by simulation: bench/results/calibrate-choices.md, rounded to thousandths.</summary>
internal static class ChoiceCoverage
{
    private const double Level = 0.95, Short = 0.01;

    private static readonly Row[] s_rows =
    [
        new(3, 3, 1, 0.964, null, null, 0.950), new(3, 3, 1.5, 0.962, null, null, 0.946), new(3, 3, 2, 0.958, null, null, 0.942), new(3, 3, 3, 0.950, null, null, 0.927),
        new(4, 4, 1, 0.957, null, null, 0.949), new(4, 4, 1.5, 0.959, null, null, 0.951), new(4, 4, 2, 0.953, null, null, 0.941), new(4, 4, 3, 0.949, null, null, 0.931),
        new(5, 5, 1, 0.955, 0.957, 0.948, 0.948), new(5, 5, 1.5, 0.956, 0.954, 0.944, 0.948), new(5, 5, 2, 0.949, 0.947, 0.934, 0.940), new(5, 5, 3, 0.948, 0.939, 0.924, 0.934),
        new(6, 6, 1, 0.954, 0.955, 0.949, 0.950), new(6, 6, 1.5, 0.951, 0.950, 0.943, 0.945), new(6, 6, 2, 0.949, 0.946, 0.938, 0.940), new(6, 6, 3, 0.950, 0.940, 0.932, 0.938),
        new(7, 7, 1, 0.953, 0.952, 0.951, 0.950), new(7, 7, 1.5, 0.950, 0.949, 0.945, 0.946), new(7, 7, 2, 0.951, 0.947, 0.943, 0.944), new(7, 7, 3, 0.949, 0.943, 0.932, 0.937),
        new(9, 9, 1, 0.955, 0.954, null, 0.953), new(9, 9, 1.5, 0.951, 0.951, null, 0.949), new(9, 9, 2, 0.952, 0.950, null, 0.947), new(9, 9, 3, 0.951, 0.948, null, 0.944),
        new(15, 15, 1, 0.951, 0.950, null, 0.951), new(15, 15, 1.5, 0.951, 0.948, null, 0.949), new(15, 15, 2, 0.948, 0.943, null, 0.945), new(15, 15, 3, 0.950, 0.946, null, 0.945),
        new(3, 6, 1, 0.947, null, null, 0.951), new(3, 6, 1.5, 0.935, null, null, 0.915), new(3, 6, 2, 0.934, null, null, 0.877), new(3, 6, 3, 0.931, null, null, 0.833),
        new(3, 9, 1, 0.936, null, null, 0.948), new(3, 9, 1.5, 0.931, null, null, 0.893), new(3, 9, 2, 0.930, null, null, 0.837), new(3, 9, 3, 0.929, null, null, 0.758),
        new(3, 12, 1, 0.934, null, null, 0.952), new(3, 12, 1.5, 0.926, null, null, 0.878), new(3, 12, 2, 0.927, null, null, 0.810), new(3, 12, 3, 0.930, null, null, 0.723),
        new(4, 8, 1, 0.949, null, null, 0.950), new(4, 8, 1.5, 0.945, null, null, 0.916), new(4, 8, 2, 0.941, null, null, 0.881), new(4, 8, 3, 0.939, null, null, 0.834),
        new(4, 12, 1, 0.943, null, null, 0.949), new(4, 12, 1.5, 0.940, null, null, 0.893), new(4, 12, 2, 0.938, null, null, 0.840), new(4, 12, 3, 0.941, null, null, 0.770),
        new(5, 6, 1, 0.956, 0.955, 0.951, 0.951), new(5, 6, 1.5, 0.951, 0.944, 0.942, 0.937), new(5, 6, 2, 0.949, 0.936, 0.935, 0.929), new(5, 6, 3, 0.948, 0.931, 0.923, 0.915),
        new(5, 8, 1, 0.950, 0.944, 0.948, 0.950), new(5, 8, 1.5, 0.949, 0.938, 0.943, 0.928), new(5, 8, 2, 0.947, 0.924, 0.932, 0.906), new(5, 8, 3, 0.945, 0.918, 0.915, 0.875),
        new(5, 12, 1, 0.953, 0.937, null, 0.955), new(5, 12, 1.5, 0.944, 0.919, null, 0.904), new(5, 12, 2, 0.945, 0.918, null, 0.865), new(5, 12, 3, 0.943, 0.917, null, 0.814),
        new(5, 15, 1, 0.944, 0.929, null, 0.950), new(5, 15, 1.5, 0.942, 0.919, null, 0.892), new(5, 15, 2, 0.947, 0.916, null, 0.845), new(5, 15, 3, 0.946, 0.914, null, 0.777),
        new(6, 9, 1, 0.951, 0.949, 0.949, 0.948), new(6, 9, 1.5, 0.950, 0.939, 0.944, 0.927), new(6, 9, 2, 0.946, 0.935, 0.933, 0.910), new(6, 9, 3, 0.947, 0.934, 0.922, 0.887),
        new(6, 18, 1, 0.947, 0.936, null, 0.949), new(6, 18, 1.5, 0.940, 0.928, null, 0.886), new(6, 18, 2, 0.945, 0.929, null, 0.844), new(6, 18, 3, 0.945, 0.929, null, 0.777),
        new(9, 15, 1, 0.952, 0.952, null, 0.950), new(9, 15, 1.5, 0.949, 0.946, null, 0.922), new(9, 15, 2, 0.950, 0.945, null, 0.902), new(9, 15, 3, 0.949, 0.943, null, 0.880),
        new(6, 3, 1, 0.950, null, null, 0.948), new(6, 3, 1.5, 0.955, null, null, 0.969), new(6, 3, 2, 0.958, null, null, 0.975), new(6, 3, 3, 0.953, null, null, 0.980),
        new(8, 5, 1, 0.951, 0.945, 0.950, 0.951), new(8, 5, 1.5, 0.957, 0.953, 0.954, 0.965), new(8, 5, 2, 0.953, 0.953, 0.950, 0.970), new(8, 5, 3, 0.953, 0.951, 0.945, 0.973),
        new(12, 5, 1, 0.948, 0.935, null, 0.952), new(12, 5, 1.5, 0.952, 0.946, null, 0.975), new(12, 5, 2, 0.951, 0.947, null, 0.985), new(12, 5, 3, 0.953, 0.951, null, 0.991),
    ];

    /// <summary>The designs of the table.</summary>
    internal static IReadOnlyList<Row> Known => s_rows;

    /// <summary>A note where the interval of question A itself holds less than 94 % for lots like these; null where it holds.</summary>
    /// <param name="first">Coupons of the lot that scatters more.</param>
    /// <param name="second">Coupons of the other.</param>
    /// <param name="ratio">Its scatter as a multiple of the other's, 1 or more.</param>
    public static string? OfTheVerdict(int first, int second, double ratio)
    {
        Row row = Nearest(first, second, ratio);
        return row.Welch >= Level - Short ? null
            : FormattableString.Invariant($"Few coupons in the lot that scatters more: simulated with {row.First} and {row.Second} coupons{Scatter(row)}, the 95 % interval as tested holds {100 * row.Welch:0} %. Equal numbers of coupons hold 95 %.");
    }

    /// <summary>A sentence on the choices that are bolder than 95 % by more than a point for lots like these, with a leading space; empty where none is.</summary>
    /// <param name="choices">Codes of the choices that were counted.</param>
    /// <param name="first">Coupons of the lot that scatters more.</param>
    /// <param name="second">Coupons of the other.</param>
    /// <param name="ratio">Its scatter as a multiple of the other's, 1 or more.</param>
    public static string Words(IEnumerable<string> choices, int first, int second, double ratio)
    {
        Row row = Nearest(first, second, ratio);
        (string Words, double Coverage)[] bold = [.. choices.Select(c => c switch
        {
            "trimmedMeans" => ("trimmed means", row.Trimmed ?? 1),
            "permutation" => ("permutation", row.Permutation ?? 1),
            "pooledVariance" => ("one variance for both lots", row.OneVariance),
            _ => (c, 1),
        }).Where(c => c.Item2 < Level - Short)];
        if (bold.Length == 0) return "";
        string each = string.Join(", ", bold.Select(b => FormattableString.Invariant($"{b.Words} {100 * b.Coverage:0} %")));
        return FormattableString.Invariant($" Too bold for lots like these (simulated with {row.First} and {row.Second} coupons{Scatter(row)}): {each} in place of 95 %; a dissent from there weighs less.");
    }

    private static string Scatter(Row row) => row.Ratio > 1 ? FormattableString.Invariant($", the first scattering {row.Ratio:0.#} times as much") : "";

    private static Row Nearest(int first, int second, double ratio) => s_rows.MinBy(r => Distance(r, first, second, ratio))!;

    private static double Distance(Row row, int first, int second, double ratio) =>
        Math.Abs(Math.Log((double)first / row.First)) + Math.Abs(Math.Log((double)second / row.Second)) + Math.Abs(Math.Log(ratio / row.Ratio));

    /// <summary>One design of the table.</summary>
    /// <param name="First">Coupons of the lot that scatters more.</param>
    /// <param name="Second">Coupons of the other.</param>
    /// <param name="Ratio">Its scatter as a multiple of the other's.</param>
    /// <param name="Welch">Coverage of the interval of question A itself.</param>
    /// <param name="Trimmed">Coverage with trimmed means; null below 5 coupons.</param>
    /// <param name="Permutation">Coverage by permutation; null below 5 coupons and where there are too many splits.</param>
    /// <param name="OneVariance">Coverage with one variance for both lots.</param>
    internal sealed record Row(int First, int Second, double Ratio, double Welch, double? Trimmed, double? Permutation, double OneVariance);
}
