using Meltwise.Statistics.Outliers;

namespace Meltwise.Casework.Judging;

/// <summary>Coupons that stand apart among those of their heat and treatment. A flag only: a person excludes, with a physical cause.</summary>
internal static class SuspectsStep
{
    private const double Alpha = 0.05;
    private const int FewestForEsd = 15, FewestForGrubbs = 4;

    public static List<Suspect> Find(LotData lots, IReadOnlyList<double?> changeWithout)
    {
        List<Suspect> suspects = [];
        foreach (IGrouping<(int, string?), int> cell in Enumerable.Range(0, lots.Coupons.Count).GroupBy(i => (lots.Heat[i], lots.Coupons[i].Row.Treatment?.ToUpperInvariant())))
        {
            int[] places = [.. cell];
            double[] z = [.. places.Select(i => lots.Z[i])];
            if (z.Length < FewestForGrubbs) continue;
            (string test, IReadOnlyList<OutlierFinding> found) = z.Length >= FewestForEsd
                ? ("generalized extreme studentized deviate (Rosner 1983)", GeneralizedEsd.Outliers(z, Math.Max(1, z.Length / 10), Alpha))
                : ("two-sided Grubbs (ASTM E178)", Grubbs.Test(z, Alpha) is { IsOutlier: true } one ? [one] : (IReadOnlyList<OutlierFinding>)[]);
            foreach (OutlierFinding finding in found)
            {
                int i = places[finding.Index];
                suspects.Add(new(lots.Coupons[i].Row.Coupon, lots.Coupons[i].Row.Heat, lots.Y[i], test, finding.Statistic, finding.CriticalValue, changeWithout[i]));
            }
        }
        return suspects;
    }
}
