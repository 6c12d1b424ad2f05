using Meltwise.Domain;
using Meltwise.Statistics.Comparison;

namespace Meltwise.Casework.Judging;

/// <summary>The plain figures of a lot.</summary>
internal static class LotSummary
{
    public static Lot Of(LotData lots, bool candidate, LotContrast? contrast, double?[] change, ComparisonInput input)
    {
        int[] places = [.. Enumerable.Range(0, lots.Coupons.Count).Where(i => lots.Candidate[i] == candidate)];
        double[] y = [.. places.Select(i => lots.Y[i])], z = [.. places.Select(i => lots.Z[i])], hardness = [.. places.Select(i => lots.Hardness[i]).Where(h => !double.IsNaN(h))];
        bool log = lots.Rule.IsLog;
        LotCoupon[] coupons = [.. places.Select(i => lots.Coupons[i])];
        string? source = StratumCheck.Shared(coupons, r => r.Source);
        return new()
        {
            Heat = places.Length == 0 ? candidate ? input.CandidateHeats : input.ReferenceHeats : [.. places.Select(i => lots.Coupons[i].Row.Heat).Distinct(StringComparer.OrdinalIgnoreCase)],
            Role = candidate ? "candidate" : "reference",
            Source = source,
            Route = StratumCheck.Shared(coupons, r => r.Route),
            OtherHeatsOfSource = (candidate ? input.OtherHeatsOfCandidateAtLock : input.OtherHeatsOfReferenceAtLock) ?? (source is null || input.History is null ? null : OtherHeats(input.History, source, lots)),
            N = y.Length,
            NCompared = contrast is null ? y.Length : places.Count(i => contrast.Coefficients[i] != 0),
            Mean = y.Length > 0 ? y.Average() : 0,
            Sd = Sd(y),
            GeometricMean = log && z.Length > 0 ? Math.Exp(z.Average()) : null,
            LogSd = log ? Sd(z) : null,
            HardnessMean = hardness.Length > 0 ? hardness.Average() : null,
            Range = y.Length > 0 ? [y.Min(), y.Max()] : [],
            Coupons = [.. places.Select(i => Point(lots.Coupons[i], change[i]))],
        };
    }

    private static CouponPoint Point(LotCoupon c, double? change) => new(
        c.Row.Coupon, c.Row.Heat, c.Value, double.IsNaN(c.Hardness) ? null : c.Hardness, c.Row.Load, c.Row.Order,
        c.Bound switch { Censoring.Above => "above", Censoring.Below => "below", _ => null }, change, c.Row.Code);

    private static int OtherHeats(CouponTable history, string source, LotData lots)
    {
        HashSet<string> heats = new(history.Rows.Where(r => string.Equals(r.Source, source, StringComparison.OrdinalIgnoreCase)).Select(r => r.Heat), StringComparer.OrdinalIgnoreCase);
        heats.ExceptWith(lots.Coupons.Select(c => c.Row.Heat));
        return heats.Count;
    }

    private static double? Sd(double[] x)
    {
        if (x.Length < 2) return null;
        double mean = x.Average();
        return Math.Sqrt(x.Sum(v => (v - mean) * (v - mean)) / (x.Length - 1));
    }
}
