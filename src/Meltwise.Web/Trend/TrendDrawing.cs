using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Casework.Trending;
using Meltwise.Domain;
using Meltwise.Publishing.Figures;
using Meltwise.Statistics.Distributions;
using Meltwise.Web.Enquiries;
using Meltwise.Web.Page;

namespace Meltwise.Web.Trend;

/// <summary>The trend of a bench as a figure, with the lots of an enquiry on top if one is chosen.</summary>
internal static class TrendDrawing
{
    public static Figure Of(BenchTrend trend, Property property, IBench bench, string? enquiry) => TrendFigure.Build(new TrendInput
    {
        Property = property.Name,
        Unit = property.StoredUnit.Name,
        Log = property.Scale == PropertyScale.Logarithmic,
        Groups = [.. trend.Points.Select(p => new TrendGroup(p.Heat, p.HardnessHrc, p.Value, p.Coupons, true, Addresses.Heat(p.Heat), p.Route))],
        Trend = trend.Line,
        Range = trend.RangeHrc is { } range ? new(range.Low, range.High) : null,
        Lots = string.IsNullOrEmpty(enquiry) ? [] : [.. Lots(bench, property, enquiry)],
        Condition = $"{trend.Heats} heats",
        Width = 1000,
    });

    /// <summary>The trend of impact energy with one heat set off from the others.</summary>
    public static Figure OfHeat(BenchTrend trend, string heat) => TrendFigure.Build(new TrendInput
    {
        Property = PropertyTable.ImpactEnergy.Name,
        Unit = PropertyTable.ImpactEnergy.StoredUnit.Name,
        Log = true,
        Groups = [.. trend.Points.Where(p => p.Heat != heat).Select(p => new TrendGroup(p.Heat, p.HardnessHrc, p.Value, p.Coupons, true, Addresses.Heat(p.Heat), p.Route))],
        Trend = trend.Line,
        Range = trend.RangeHrc is { } range ? new(range.Low, range.High) : null,
        Lots = [.. trend.Points.Where(p => p.Heat == heat).Select(p => new TrendLot(p.Heat, p.HardnessHrc, p.Value, true))],
        Condition = $"{trend.Heats} heats of the kind, this one among them",
    });

    private static IEnumerable<TrendLot> Lots(IBench bench, Property property, string name)
    {
        if (EnquiryView.Find(bench, name) is not { IsSealed: false } view)
        {
            yield break;
        }

        foreach (IGrouping<string, CouponRow> heat in view.Rows.Where(r => r.State == CouponState.Valid && r.Hardness.Count > 0 && r.Readings.ContainsKey(property.Name)).GroupBy(r => r.Heat))
        {
            double[] values = [.. heat.Select(r => r.Readings[property.Name].Average(v => property.Convert(v.Value, v.Unit, property.StoredUnit.Name))).Where(v => v > 0)];
            if (values.Length > 0)
            {
                double mean = property.Scale == PropertyScale.Logarithmic ? Math.Exp(values.Average(Math.Log)) : values.Average();
                yield return new(heat.Key, heat.Average(r => r.Hardness.Average(h => h.Value)), mean, view.IsCandidate(heat.Key), null, null, Addresses.Heat(heat.Key));
            }
        }
    }
}

/// <summary>Numbers of a trend as its page words them.</summary>
internal static class BenchTrendWords
{
    /// <summary>Half-width of the 95 % interval of the slope.</summary>
    public static double HalfWidth(TrendLine line) => StudentT.Quantile(0.975, line.DegreesOfFreedom) * line.SlopeSe;
}
