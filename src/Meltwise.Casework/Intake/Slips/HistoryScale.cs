using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>Where the bench's history puts a property: the natural logarithm of the heats' means on a line over hardness, with the scatter of heats and of coupons.</summary>
/// <remarks>
/// <para><b>Question.</b> Do new figures fit the history better in another unit than the one said?</para>
/// <para><b>Model.</b> ln y of a heat's mean is normal about a + b(H - Hmean) with variance s_b² between heats; coupons scatter about their heat with variance s_w².
/// A lot of n coupons then has V = s_b²(1 + 1/g) + s_w²/n, where g is the number of groups.</para>
/// <para><b>Decision.</b> With r the lot's distance from the line in the unit said and r' in the other unit, the log-likelihood ratio is (r² - r'²)/(2V). A slip is suspected
/// above ln 10: the figures are then ten times as likely in the other unit. The likelihood ratio is that of Neyman and Pearson (1933); the limit of 10 is our choice. By normal theory, with
/// heats scattering by 8 % and coupons by 10 %, a lot of nine read in J under ft·lbf is caught in 85 of 100 cases, and a right one questioned in 9 of 1000.</para>
/// <para><b>Limits.</b> At least five groups of the same grade, route, geometry and orientation; nothing is said of a lot more than 1 HRC outside the history, or where hardness is missing on one side.
/// A scatter below 3 % is taken as 3 %. It accuses nobody: a real change of the steel by a third looks the same, so a person decides.</para>
/// </remarks>
public sealed class HistoryScale
{
    /// <summary>Fewest groups that history must have.</summary>
    public const int FewestGroups = 5;

    private const double SmallestScatter = 0.03;
    private const double HrcBeyond = 1;
    private static readonly double s_limit = Math.Log(10);

    private readonly double _intercept;
    private readonly double _slope;
    private readonly double _meanHrc;
    private readonly double _betweenVariance;
    private readonly double _withinVariance;
    private readonly (double Low, double High)? _hrc;

    private HistoryScale(int groups, double intercept, double slope, double meanHrc, double between, double within, (double, double)? hrc)
    {
        (Groups, _intercept, _slope, _meanHrc, _withinVariance, _hrc) = (groups, intercept, slope, meanHrc, within, hrc);
        _betweenVariance = Math.Max(between, SmallestScatter * SmallestScatter);
    }

    /// <summary>Number of groups (heat and treatment) behind it.</summary>
    public int Groups { get; }

    /// <summary>Builds it from history rows of one geometry; null when there are too few groups.</summary>
    public static HistoryScale? Of(IEnumerable<CouponRow> rows, Property property)
    {
        Group[] groups = [.. rows.Where(r => r.State == CouponState.Valid).Select(r => (Row: r, Log: LogOf(r, property))).Where(p => p.Log is not null)
            .GroupBy(p => (p.Row.Heat, p.Row.Treatment)).Select(g => Group.Of([.. g.Select(p => (p.Log!.Value, MeanHrc(p.Row)))]))];
        if (groups.Length < FewestGroups) return null;
        double within = groups.Sum(g => g.SumOfSquares) / Math.Max(1, groups.Sum(g => g.Count - 1));
        double meanLog = groups.Average(g => g.MeanLog);
        if (!Array.TrueForAll(groups, g => g.Hrc is not null))
            return new(groups.Length, meanLog, 0, 0, groups.Sum(g => Square(g.MeanLog - meanLog)) / (groups.Length - 1), within, null);
        double meanHrc = groups.Average(g => g.Hrc!.Value);
        double spread = groups.Sum(g => Square(g.Hrc!.Value - meanHrc));
        double slope = spread < 1e-9 ? 0 : groups.Sum(g => (g.Hrc!.Value - meanHrc) * (g.MeanLog - meanLog)) / spread;
        double between = groups.Sum(g => Square(g.MeanLog - meanLog - (slope * (g.Hrc!.Value - meanHrc)))) / (groups.Length - 2);
        return new(groups.Length, meanLog, slope, meanHrc, between, within, (groups.Min(g => g.Hrc!.Value), groups.Max(g => g.Hrc!.Value)));
    }

    /// <summary>Log-likelihood ratio that the figures are in another unit; null when the history cannot judge.</summary>
    /// <param name="meanLog">Mean of ln y of the lot, in the unit said, converted to the property's stored unit.</param>
    /// <param name="count">Coupons of the lot.</param>
    /// <param name="hrc">Mean hardness of the lot; null when unknown.</param>
    /// <param name="logFactor">ln of the factor by which the converted figures would change in the other unit.</param>
    public double? Evidence(double meanLog, int count, double? hrc, double logFactor)
    {
        double expected = _intercept;
        if (_hrc is { } range)
        {
            if (hrc is not { } h || h < range.Low - HrcBeyond || h > range.High + HrcBeyond) return null;
            expected += _slope * (h - _meanHrc);
        }
        double variance = (_betweenVariance * (1 + (1.0 / Groups))) + (_withinVariance / count);
        return (Square(meanLog - expected) - Square(meanLog + logFactor - expected)) / (2 * variance);
    }

    /// <summary>The value that history expects at that hardness, in the property's stored unit.</summary>
    public double Expected(double? hrc) => Math.Exp(_intercept + (hrc is { } h && _hrc is not null ? _slope * (h - _meanHrc) : 0));

    /// <summary>True when so much evidence makes a suspicion.</summary>
    public static bool IsSlip(double evidence) => evidence > s_limit;

    /// <summary>Mean of ln of a row's uncensored readings in the stored unit; null when it has none above zero.</summary>
    public static double? LogOf(CouponRow row, Property property)
    {
        if (!row.Readings.TryGetValue(property.Name, out IReadOnlyList<CensoredValue>? readings)) return null;
        double[] values = [.. readings.Where(r => r.Censoring == Censoring.None && property.FindUnit(r.Unit) is not null).Select(r => property.Convert(r.Value, r.Unit, property.StoredUnit.Name)).Where(v => v > 0)];
        return values.Length == 0 ? null : values.Average(Math.Log);
    }

    /// <summary>Mean hardness of a row, HRC; null when it has none.</summary>
    public static double? MeanHrc(CouponRow row) => row.Hardness.Count == 0 ? null : row.Hardness.Average(h => h.Value);

    private static double Square(double x) => x * x;

    private sealed record Group(int Count, double MeanLog, double SumOfSquares, double? Hrc)
    {
        public static Group Of((double Log, double? Hrc)[] coupons)
        {
            double mean = coupons.Average(c => c.Log);
            double[] hrc = [.. coupons.Where(c => c.Hrc is not null).Select(c => c.Hrc!.Value)];
            return new(coupons.Length, mean, coupons.Sum(c => Square(c.Log - mean)), hrc.Length == 0 ? null : hrc.Average());
        }
    }
}
