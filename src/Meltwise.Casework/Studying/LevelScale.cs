using System.Globalization;
using System.Text.RegularExpressions;

namespace Meltwise.Casework.Studying;

/// <summary>The values of the ordered levels of a factor, such as 520, 540, 580 °C, so that a linear change is one per unit and not per step.</summary>
/// <param name="Values">One a level, rising or falling all the way.</param>
/// <param name="Unit">Their unit as it was typed; null without one.</param>
public sealed partial record LevelScale(IReadOnlyList<double> Values, string? Unit)
{
    /// <summary>Reads values as people write them: <c>520 | 540 | 580 °C</c>, parted by | or ; or by commas where there is no decimal comma.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="levels">The levels, in order.</param>
    /// <exception cref="StudyFaultException">They make no scale; the message says what was found and expected.</exception>
    public static LevelScale Read(string text, IReadOnlyList<string> levels)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(levels);
        char separator = text.Contains('|', StringComparison.Ordinal) ? '|' : text.Contains(';', StringComparison.Ordinal) ? ';' : ',';
        string[] parts = text.Split(separator, StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        List<double> values = [];
        HashSet<string> units = [];
        foreach (string part in parts)
        {
            Match match = Value().Match(part.Replace('−', '-').Replace(',', '.'));
            if (!match.Success || !double.TryParse(match.Groups["number"].Value, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) || !double.IsFinite(value))
                throw new StudyFaultException($"“{part}” is no value of a level. Write a number for each level in their order, such as 520 | 540 | 580 °C.");
            values.Add(value);
            if (match.Groups["unit"].Value is { Length: > 0 } unit) units.Add(unit);
        }
        if (units.Count > 1) throw new StudyFaultException($"The values of the levels are in {string.Join(" and ", units)}. Write all of them in one unit.");
        LevelScale scale = new(values, units.FirstOrDefault());
        scale.Require(levels);
        return scale;
    }

    /// <summary>Values that the names of the levels tell, one number in each; null where they do not.</summary>
    public static LevelScale? Told(IReadOnlyList<string> levels)
    {
        ArgumentNullException.ThrowIfNull(levels);
        MatchCollection[] numbers = [.. levels.Select(l => Number().Matches(l))];
        if (numbers.Length < 2 || numbers.Any(m => m.Count != 1)) return null;
        double[] values = [.. numbers.Select(m => double.Parse(m[0].Value, CultureInfo.InvariantCulture))];
        return IsMonotone(values) ? new(values, null) : null;
    }

    /// <summary>The values as they are read back.</summary>
    public override string ToString() => string.Join(" | ", Values.Select(v => v.ToString("0.######", CultureInfo.InvariantCulture))) + (Unit is null ? "" : $" {Unit}");

    /// <summary>Refuses values that make no scale of these levels.</summary>
    /// <param name="levels">The levels, in order.</param>
    /// <exception cref="StudyFaultException">They do not.</exception>
    public void Require(IReadOnlyList<string> levels)
    {
        ArgumentNullException.ThrowIfNull(levels);
        if (levels.Count == 0) throw new StudyFaultException("Values belong to levels: name the levels in order too.");
        if (Values.Count != levels.Count) throw new StudyFaultException($"There are {levels.Count} levels ({string.Join(", ", levels)}) and {Values.Count} {(Values.Count == 1 ? "value" : "values")}. Give one value a level, in the same order.");
        if (Values.Any(v => !double.IsFinite(v))) throw new StudyFaultException("The value of a level is a finite number.");
        for (int i = 0; i < Values.Count; i++)
            for (int j = 0; j < i; j++)
                if (Values[i].Equals(Values[j])) throw new StudyFaultException(string.Create(CultureInfo.InvariantCulture, $"{levels[j]} and {levels[i]} have the same value {Values[i]:0.######}. Two levels with one value are one level."));
        if (!IsMonotone(Values)) throw new StudyFaultException($"The values {this} neither rise nor fall all the way, and “no change beyond a level” goes by the order of the levels. Put levels and values in one order.");
    }

    private static bool IsMonotone(IReadOnlyList<double> values) =>
        values.Zip(values.Skip(1)).All(p => p.Second > p.First) || values.Zip(values.Skip(1)).All(p => p.Second < p.First);

    [GeneratedRegex(@"^(?<number>[+-]?\d+(\.\d+)?([eE][+-]?\d+)?)\s*(?<unit>[^\d\s|;][^\d|;]{0,15})?$", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Value();

    [GeneratedRegex(@"(?<![\d.\w])-?\d+(\.\d+)?", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Number();
}
