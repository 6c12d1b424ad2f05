using Meltwise.Domain;

namespace Meltwise.Web.Readings;

/// <summary>Scatter of the hardness readings of one coupon, told when it is wide.</summary>
/// <remarks>More than 0.5 HRC between the indents of a coupon points to seating, surface, spacing or a soft skin rather than to the steel. Common practice, no source.</remarks>
internal static class IndentScatter
{
    private const double WideHrc = 0.5;

    /// <summary>Standard deviation of the coupon's valid readings, HRC, when it is wide; null otherwise.</summary>
    public static double? Wide(Series series, Cell cell)
    {
        if (series.Property != PropertyTable.Hardness)
        {
            return null;
        }

        double[] indents =
        [
            .. series.Cells.Where(c => c.Row.Heat == cell.Row.Heat && c.Row.Coupon == cell.Row.Coupon)
                .Select(c => c.Reading).Where(r => r is { State: CouponState.Valid }).Select(r => r!.Typed.Value),
        ];
        if (indents.Length < 2)
        {
            return null;
        }

        double mean = indents.Average();
        double sd = Math.Sqrt(indents.Sum(v => (v - mean) * (v - mean)) / (indents.Length - 1));
        return sd > WideHrc ? sd : null;
    }
}
