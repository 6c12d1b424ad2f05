using System.Globalization;

namespace Meltwise.Casework.Judging;

/// <summary>Numbers as a report prints them: uncertainty to two significant digits and the value to the same place; p to two, never 0.</summary>
public static class Figures
{
    /// <summary>A fixed number of decimals, with the minus sign of print.</summary>
    public static string Fixed(double value, int decimals) => Clean(Math.Round(value, decimals, MidpointRounding.AwayFromZero)).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture).Replace('-', '−');

    /// <summary>An estimate and its limits, all to the place of two significant digits of the half-width.</summary>
    public static (string Estimate, string Lower, string Upper) Interval(double estimate, double lower, double upper)
    {
        int decimals = Decimals((upper - lower) / 2, 2, 4);
        return (Fixed(estimate, decimals), Fixed(lower, decimals), Fixed(upper, decimals));
    }

    /// <summary>A p value: two significant digits, or <c>&lt; 0.001</c>.</summary>
    public static string Probability(double p) => p < 0.001 ? "< 0.001" : p.ToString(p < 0.1 ? "G2" : "F2", CultureInfo.InvariantCulture);

    /// <summary>A p value as a sentence says it: <c>p = 0.03</c>, or <c>p &lt; 0.001</c>.</summary>
    public static string P(double p) => p < 0.001 ? "p < 0.001" : $"p = {Probability(p)}";

    /// <summary>A change in percent of a ratio: whole percent from 10 %, one decimal below.</summary>
    public static string Percent(double ratio)
    {
        double percent = Math.Abs(ratio - 1) * 100;
        return Fixed(percent, percent >= 9.95 ? 0 : 1) + " %";
    }

    /// <summary>Decimals that show <paramref name="digits"/> significant digits of an uncertainty, between 0 and <paramref name="most"/>.</summary>
    public static int Decimals(double uncertainty, int digits, int most) =>
        !(uncertainty > 0) || !double.IsFinite(uncertainty) ? most : Math.Clamp(digits - 1 - (int)Math.Floor(Math.Log10(uncertainty)), 0, most);

    private static double Clean(double value) => value == 0 ? 0 : value;
}
