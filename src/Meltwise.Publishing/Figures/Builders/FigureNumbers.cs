using System.Globalization;

namespace Meltwise.Publishing.Figures;

/// <summary>Numbers as figures and reports print them: with a true minus sign, and as many digits as the size of the number asks for.</summary>
public static class FigureNumbers
{
    /// <summary>A ratio with two decimals.</summary>
    public static string Ratio(double ratio) => AxisTicks.Write(ratio, 2);

    /// <summary>A value with three significant digits at least, no decimals above 100; from 10 000 on with three, thousands parted by a thin space.</summary>
    public static string Value(double value)
    {
        double size = Math.Abs(value);
        if (size >= 10_000)
        {
            double unit = Math.Pow(10, Math.Floor(Math.Log10(size)) - 2);
            return (Math.Round(value / unit) * unit).ToString("N0", CultureInfo.InvariantCulture).Replace(',', '\u202F').Replace('-', '−');
        }
        return AxisTicks.Write(value, size >= 100 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3);
    }

    /// <summary>A difference with its sign.</summary>
    public static string Signed(double value) => WithSign(Value(value));

    /// <summary>A difference with its sign and so many decimals; what rounds to zero carries none.</summary>
    public static string Signed(double value, int decimals) => WithSign(AxisTicks.Write(value, decimals));

    private static string WithSign(string number) =>
        number.AsSpan().IndexOfAnyInRange('1', '9') < 0 ? number.TrimStart('−') : number[0] == '−' ? number : "+" + number;

    /// <summary>A share in percent without decimals.</summary>
    public static string Percent(double share) => (100 * share).ToString("F0", CultureInfo.InvariantCulture).Replace('-', '−') + " %";

    /// <summary>A level: <c>90 %</c>, <c>97.5 %</c>.</summary>
    public static string Level(double level) => (100 * level).ToString("0.#", CultureInfo.InvariantCulture) + " %";

    /// <summary>A plain integer.</summary>
    public static string Count(int count) => count.ToString(CultureInfo.InvariantCulture);
}
