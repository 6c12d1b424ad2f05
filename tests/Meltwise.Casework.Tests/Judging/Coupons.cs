using Meltwise.Casework.Judging;
using Meltwise.Domain;

namespace Meltwise.Casework.Tests.Judging;

/// <summary>Short ways to write coupons in a test.</summary>
internal static class Coupons
{
    public static CouponRow Row(string heat, int number, double value, string unit = "J", double? hrc = null, string property = "impact energy") => new()
    {
        Heat = heat,
        Coupon = $"{heat}-{number:D2}",
        Source = heat[..1],
        Hardness = hrc is { } h ? [CensoredValue.Of(h, "HRC")] : [],
        Readings = property == "hardness" ? new Dictionary<string, IReadOnlyList<CensoredValue>>() : new Dictionary<string, IReadOnlyList<CensoredValue>> { [property] = [CensoredValue.Of(value, unit)] },
    };

    public static IEnumerable<CouponRow> Lot(string heat, IEnumerable<double> values, string unit = "J", double? hrc = null, string property = "impact energy") =>
        values.Select((v, i) => Row(heat, i + 1, v, unit, hrc, property));

    public static CouponTable Table(IEnumerable<CouponRow> rows, params string[] columns) => new([.. rows], new HashSet<string>(["source", .. columns]), "coupons.csv");

    public static DecisionRule Rule(double low = 0.8, double high = 1.25) => new() { Property = "impact energy", Margin = new Margin.Ratio(low, high) };

    public static ComparisonInput Input(IEnumerable<CouponRow> rows, DecisionRule? rule = null, string reference = "K17", string candidate = "M03") =>
        new() { Lots = Table(rows), Rule = rule ?? Rule(), ReferenceHeats = [reference], CandidateHeats = [candidate] };
}
