using System.Globalization;
using Meltwise.Domain;

namespace Meltwise.Casework.Intake;

/// <summary>Which sign parts the decimals in a table.</summary>
public enum DecimalSign
{
    /// <summary>A point, or nothing says otherwise.</summary>
    Point,

    /// <summary>A comma, as most of Europe writes.</summary>
    Comma,
}

/// <summary>A figure read from a cell.</summary>
/// <param name="Value">The number.</param>
/// <param name="Censoring">Whether it is a bound.</param>
/// <param name="Text">Digits as typed, with a decimal point: <c>61.0</c>, <c>&gt;120</c>.</param>
/// <param name="Unit">What stood behind the figure; empty when nothing did.</param>
public readonly record struct Figure(double Value, Censoring Censoring, string Text, string Unit);

/// <summary>Reads figures as people type them: <c>61.0</c>, <c>61,0</c>, <c>&gt;120</c>, <c>&lt;0.05</c>, <c>41.2 J</c>, <c>1 250,5</c>. Says why not, rather than guess.</summary>
/// <remarks>A single comma or point before exactly three digits is read as decimals only where the table shows which sign it uses: <c>1,234</c> is either 1.234 or 1234.</remarks>
public static class TypedFigure
{
    private static readonly System.Buffers.SearchValues<char> s_strange = System.Buffers.SearchValues.Create(" \u00A0\u202F'−+");

    /// <summary>Reads one cell.</summary>
    /// <param name="text">The cell.</param>
    /// <param name="sign">The table's decimal sign.</param>
    /// <param name="figure">The figure.</param>
    /// <param name="expected">What was expected, when it cannot be read.</param>
    public static bool TryRead(string text, DecimalSign sign, out Figure figure, out string expected)
    {
        ReadOnlySpan<char> rest = text.AsSpan().Trim();
        Censoring censoring = TakeBound(ref rest);
        int length = NumberLength(rest);
        string unit = rest[length..].Trim().ToString();
        figure = default;
        expected = "a figure, or > or < with a figure";
        if (Normal(rest[..length].Trim(), sign, ref expected) is not { } number) return false;
        if (!double.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) || !double.IsFinite(value)) return false;
        string typed = censoring switch { Censoring.Above => ">" + number, Censoring.Below => "<" + number, _ => number };
        figure = new(value, censoring, typed, unit);
        return true;
    }

    /// <summary>The decimal sign that the cells of a table show; null when no cell tells.</summary>
    public static DecimalSign? SignOf(IEnumerable<string> cells)
    {
        int commas = 0;
        int points = 0;
        foreach (string cell in cells)
        {
            int comma = cell.LastIndexOf(',');
            int point = cell.LastIndexOf('.');
            if (comma == point || !cell.Any(char.IsAsciiDigit)) continue;
            int last = Math.Max(comma, point);
            int decimals = cell.AsSpan(last + 1).Trim().Length;
            bool telling = (comma >= 0 && point >= 0) || decimals != 3 || cell.StartsWith('0');
            if (!telling) continue;
            if (last == comma) commas++;
            else points++;
        }
        return commas + points == 0 ? null : commas > points ? DecimalSign.Comma : DecimalSign.Point;
    }

    private static Censoring TakeBound(ref ReadOnlySpan<char> text)
    {
        if (text.IsEmpty || text[0] is not ('>' or '<' or '≥' or '≤')) return Censoring.None;
        Censoring censoring = text[0] is '>' or '≥' ? Censoring.Above : Censoring.Below;
        text = text[1..];
        if (!text.IsEmpty && text[0] == '=') text = text[1..];
        text = text.TrimStart();
        return censoring;
    }

    private static int NumberLength(ReadOnlySpan<char> text)
    {
        int i = 0;
        if (i < text.Length && text[i] is '+' or '-' or '−') i++;
        while (i < text.Length && (char.IsAsciiDigit(text[i]) || text[i] is '.' or ',' || (IsGroupSpace(text[i]) && i + 1 < text.Length && char.IsAsciiDigit(text[i + 1])))) i++;
        if (i > 0 && i + 1 < text.Length && text[i] is 'e' or 'E' && (char.IsAsciiDigit(text[i + 1]) || (text[i + 1] is '+' or '-' && i + 2 < text.Length && char.IsAsciiDigit(text[i + 2]))))
        {
            i += 2;
            while (i < text.Length && char.IsAsciiDigit(text[i])) i++;
        }
        return i;
    }

    private static bool IsGroupSpace(char c) => c is ' ' or '\u00A0' or '\u202F' or '\'';

    // The number in the form that a parser of any culture reads alike, or null.
    private static string? Normal(ReadOnlySpan<char> number, DecimalSign sign, ref string expected)
    {
        if (number.IsEmpty || !number.ContainsAnyInRange('0', '9')) return null;
        int commas = number.Count(',');
        int points = number.Count('.');
        if (commas == 0 && points <= 1 && sign == DecimalSign.Point && !number.ContainsAny(s_strange)) return number.ToString();
        if (commas + points == 1 && IsAmbiguous(number, commas == 1 ? ',' : '.', sign))
        {
            expected = $"a figure that can be read one way only; {number} may mean thousands or decimals";
            return null;
        }
        char @decimal = commas > 0 && points > 0 ? (number.LastIndexOf(',') > number.LastIndexOf('.') ? ',' : '.') : commas == 1 ? ',' : points == 1 ? '.' : '\0';
        char group = @decimal == ',' ? '.' : ',';
        if (@decimal == '\0' && commas + points > 0) (@decimal, group) = ('\0', commas > 0 ? ',' : '.');
        return GroupsAreWhole(number, @decimal, group) ? Strip(number, @decimal, group) : null;
    }

    private static bool IsAmbiguous(ReadOnlySpan<char> number, char mark, DecimalSign sign)
    {
        ReadOnlySpan<char> whole = number[..number.IndexOf(mark)].TrimStart("+-−");
        ReadOnlySpan<char> decimals = number[(number.IndexOf(mark) + 1)..];
        bool isTablesSign = (mark == ',') == (sign == DecimalSign.Comma);
        return !isTablesSign && decimals.Length == 3 && whole.Length is > 0 and <= 3 && whole[0] != '0';
    }

    private static bool GroupsAreWhole(ReadOnlySpan<char> number, char @decimal, char group)
    {
        int end = @decimal == '\0' ? number.Length : number.LastIndexOf(@decimal);
        ReadOnlySpan<char> whole = number[..end];
        int space = whole.IndexOfAny(" \u00A0\u202F'");
        if (space >= 0) group = whole[space];
        bool first = true;
        foreach (Range part in whole.Split(group))
        {
            if (!first && whole[part].Length != 3) return false;
            first = false;
        }
        return !number[end..].Contains(group) && !number[end..].ContainsAny(" \u00A0\u202F'");
    }

    private static string Strip(ReadOnlySpan<char> number, char @decimal, char group)
    {
        System.Text.StringBuilder text = new(number.Length);
        foreach (char c in number)
        {
            if (c == group || c == '+' && text.Length == 0 || IsGroupSpace(c)) continue;
            text.Append(c == @decimal ? '.' : c == '−' ? '-' : c);
        }
        return text.ToString();
    }
}
