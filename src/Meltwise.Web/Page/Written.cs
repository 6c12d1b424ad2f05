using System.Globalization;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;
using Meltwise.Web.Settings;

namespace Meltwise.Web.Page;

/// <summary>How numbers, days and quantities are written on a page: true minus, the person's decimal sign, a number never parted from its unit.</summary>
public sealed class Written(MachineSettings settings)
{
    private const char NoBreak = '\u00A0';
    private static readonly CultureInfo s_english = CultureInfo.GetCultureInfo("en-GB");
    private static readonly string[] s_counts = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

    /// <summary>A number with so many decimals.</summary>
    public string Number(double value, int decimals)
    {
        string text = value.ToString("F" + decimals, CultureInfo.InvariantCulture);

        // A value that prints as zero carries no sign.
        return Sign(double.IsFinite(value) && text.AsSpan().IndexOfAnyInRange('1', '9') < 0 ? text.TrimStart('-') : text);
    }

    /// <summary>A number with so many significant digits, never in powers of ten.</summary>
    public string Significant(double value, int digits)
    {
        if (value == 0 || !double.IsFinite(value))
        {
            return Number(value, 0);
        }

        int decimals = Math.Clamp(digits - 1 - (int)Math.Floor(Math.Log10(Math.Abs(value))), 0, 12);
        return Number(value, decimals);
    }

    /// <summary>A number with so many significant digits, the rest rounded away, thousands parted by a thin space.</summary>
    public string Rounded(double value, int digits)
    {
        if (!double.IsFinite(value) || Math.Abs(value) < Math.Pow(10, digits))
        {
            return Significant(value, digits);
        }

        double unit = Math.Pow(10, Math.Floor(Math.Log10(Math.Abs(value))) - digits + 1);
        return Sign((Math.Round(value / unit) * unit).ToString("N0", s_english).Replace(',', '\u202F'));
    }

    /// <summary>A figure as it was typed, digits kept; a bound keeps its sign.</summary>
    public string Typed(CensoredValue value) => Sign(value.Text.Replace(',', '.').Replace("<", "<\u202F", StringComparison.Ordinal).Replace(">", ">\u202F", StringComparison.Ordinal));

    /// <summary>An uncertainty beside its value: two significant digits at most, and no more decimals than the value has unless nothing would be left of it.</summary>
    public string Uncertainty(double value, int decimals)
    {
        if (value <= 0 || !double.IsFinite(value))
        {
            return Number(value, decimals);
        }

        int leading = -(int)Math.Floor(Math.Log10(value));
        return Number(value, Math.Clamp(Math.Max(leading, Math.Min(leading + 1, decimals)), 0, 12));
    }

    /// <summary>How many decimals a figure was typed with.</summary>
    public static int DecimalsOf(string text) => text.IndexOfAny(['.', ',']) is var point && point < 0 ? 0 : text.Length - point - 1;

    /// <summary>A figure as it was typed, with its unit.</summary>
    public string TypedWithUnit(CensoredValue value) => $"{Typed(value)}{NoBreak}{value.Unit}";

    /// <summary>A quantity in a unit.</summary>
    public string Quantity(double value, int decimals, string unit) => $"{Number(value, decimals)}{NoBreak}{unit}";

    /// <summary>A test temperature in °C, or °F where those are shown first.</summary>
    public string TestTemperature(double kelvin) => settings.FootPoundFirst
        ? Quantity(((kelvin - 273.15) * 9 / 5) + 32, 0, "°F")
        : Quantity(kelvin - 273.15, 0, "°C");

    /// <summary>A day: 3 Mar 2026.</summary>
    public static string Day(DateOnly day) => $"{DayOfYear(day)}{NoBreak}{day.Year.ToString(CultureInfo.InvariantCulture)}";

    /// <summary>A day without its year: 3 Mar.</summary>
    public static string DayOfYear(DateOnly day) => $"{day.Day.ToString(CultureInfo.InvariantCulture)}{NoBreak}{MonthName(day)}";

    /// <summary>The month in three letters.</summary>
    public static string MonthName(DateOnly day) => CultureInfo.InvariantCulture.DateTimeFormat.GetAbbreviatedMonthName(day.Month);

    /// <summary>An instant in the person's local time: 3 March 2026, 09:14.</summary>
    public static string Stamp(DateTime utc) => utc.ToLocalTime().ToString("d MMMM yyyy, HH:mm", s_english);

    /// <summary>The same where room is scarce: 3 Mar 2026, 09:14.</summary>
    public static string ShortStamp(DateTime utc) => $"{Day(LocalDay(utc))}, {utc.ToLocalTime().ToString("HH:mm", s_english)}";

    /// <summary>Running text in which no number parts from its unit at a line end.</summary>
    public static string Bound(string text) => Rich.FromString(text).PlainText;

    /// <summary>The local day of an instant.</summary>
    public static DateOnly LocalDay(DateTime utc) => DateOnly.FromDateTime(utc.ToLocalTime());

    /// <summary>A count in words up to twelve.</summary>
    public static string Count(int count) => count < s_counts.Length ? s_counts[count] : count.ToString("N0", s_english).Replace(',', '\u202F');

    /// <summary>A count in figures, thousands parted by a thin space.</summary>
    public static string Figure(int count) => count.ToString("N0", s_english).Replace(',', '\u202F');

    /// <summary>A count with its noun: one coupon, 12 coupons.</summary>
    public static string Counted(int count, string one, string? many = null) => $"{Count(count)}{NoBreak}{(count == 1 ? one : many ?? one + "s")}";

    /// <summary>The sentence with its first letter large.</summary>
    public static string Sentence(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    /// <summary>Names in a row: a, b and c.</summary>
    public static string AndList(IReadOnlyList<string> names) => names.Count switch
    {
        0 => "",
        1 => names[0],
        _ => string.Join(", ", names.Take(names.Count - 1)) + " and " + names[^1],
    };

    private string Sign(string number)
    {
        string minus = number.Replace('-', '\u2212');
        return settings.DecimalComma ? minus.Replace('.', ',') : minus;
    }
}
