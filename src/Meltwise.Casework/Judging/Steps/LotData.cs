using Meltwise.Domain;
using Meltwise.Statistics.Comparison;

namespace Meltwise.Casework.Judging;

/// <summary>One coupon with its readings averaged: n counts coupons, not readings.</summary>
/// <param name="Row">The row it came from.</param>
/// <param name="IsCandidate">Its role.</param>
/// <param name="Value">Value in the unit of comparison.</param>
/// <param name="Bound">Whether the value is a bound.</param>
/// <param name="Hardness">Mean hardness, HRC; NaN when not read.</param>
internal sealed record LotCoupon(CouponRow Row, bool IsCandidate, double Value, Censoring Bound, double Hardness);

/// <summary>The coupons of both lots as doubles, in an order that does not depend on the table's: reference first, by heat and name.</summary>
internal sealed class LotData
{
    public LotData(IEnumerable<LotCoupon> coupons, ResolvedRule rule)
    {
        Rule = rule;
        Coupons = [.. coupons.OrderBy(c => c.IsCandidate).ThenBy(c => c.Row.Heat, StringComparer.Ordinal).ThenBy(c => c.Row.Coupon, StringComparer.Ordinal)];
        Y = [.. Coupons.Select(c => c.Value)];
        Z = [.. Coupons.Select(c => rule.Analysed(c.Value))];
        Candidate = [.. Coupons.Select(c => c.IsCandidate)];
        Hardness = [.. Coupons.Select(c => c.Hardness)];
        Heats = [.. Coupons.Select(c => c.Row.Heat).Distinct(StringComparer.OrdinalIgnoreCase)];
        Heat = [.. Coupons.Select(c => Index(Heats, c.Row.Heat))];
        LoadsRecorded = Coupons.Count > 0 && Coupons.All(c => c.Row.Load is not null);
        LoadsPartlyRecorded = !LoadsRecorded && Coupons.Any(c => c.Row.Load is not null);
        Loads = LoadsRecorded ? [.. Coupons.Select(c => c.Row.Load!).Distinct(StringComparer.OrdinalIgnoreCase).Order(StringComparer.Ordinal)] : ["-"];
        Load = [.. Coupons.Select(c => LoadsRecorded ? Index(Loads, c.Row.Load!) : 0)];
    }

    public ResolvedRule Rule { get; }
    public IReadOnlyList<LotCoupon> Coupons { get; }
    public double[] Y { get; }
    public double[] Z { get; }
    public bool[] Candidate { get; }
    public double[] Hardness { get; }
    public IReadOnlyList<string> Heats { get; }
    public int[] Heat { get; }
    public bool LoadsRecorded { get; }
    public bool LoadsPartlyRecorded { get; }
    public IReadOnlyList<string> Loads { get; }
    public int[] Load { get; }

    public bool SeveralHeats => Heats.Count > 2;
    public bool HasBounds => Coupons.Any(c => c.Bound != Censoring.None);

    public int Count(bool candidate) => Candidate.Count(c => c == candidate);

    /// <summary>Readings of one role.</summary>
    public double[] Of(double[] readings, bool candidate) => [.. readings.Where((_, i) => Candidate[i] == candidate)];

    /// <summary>Mean of one role.</summary>
    public double Mean(double[] readings, bool candidate) => Of(readings, candidate).Average();

    /// <summary>Candidate less reference by step 3: within loads, or heats weighing equally. Null when no load holds both lots.</summary>
    public LotContrast? Contrast(double[] readings) => SeveralHeats
        ? EqualHeatsContrast.Fit(readings, Candidate, Heat, Heats)
        : WithinLoadContrast.Fit(readings, Candidate, Load, Loads.Count);

    /// <summary>The same as if all coupons had been in one load.</summary>
    public LotContrast? ContrastWithoutLoads(double[] readings) => WithinLoadContrast.Fit(readings, Candidate, new int[readings.Length], 1);

    /// <summary>The lots without one coupon.</summary>
    public LotData Without(int index) => new(Coupons.Where((_, i) => i != index), Rule);

    /// <summary>A name that tells the coupon from all others of both lots.</summary>
    public string NameOf(int index)
    {
        CouponRow row = Coupons[index].Row;
        return Coupons.Count(c => c.Row.Coupon == row.Coupon) == 1 ? row.Coupon : $"{row.Heat}/{row.Coupon}";
    }

    private static int Index(IReadOnlyList<string> names, string name)
    {
        for (int i = 0; i < names.Count; i++) if (string.Equals(names[i], name, StringComparison.OrdinalIgnoreCase)) return i;
        throw new System.Diagnostics.UnreachableException();
    }
}
