using System.Globalization;

namespace Meltwise.Casework.Planning;

/// <summary>Levels of a temper ladder as people write them: <c>62, 60.5, 59</c> HRC, or <c>3x1.5</c> for three tempers 1.5 HRC apart about 60.</summary>
public static class LadderText
{
    /// <summary>Forms that are read, for messages and help.</summary>
    public const string Forms = "levels are written 62; 60.5; 59 (HRC), or 3x1.5 for three tempers 1.5 HRC apart about 60";

    private const double Middle = 60;

    /// <summary>Reads the levels of both lots.</summary>
    /// <param name="reference">Of the reference.</param>
    /// <param name="candidate">Of the candidate; null for the reference's moved by the difference.</param>
    /// <param name="difference">Expected difference of hardness, candidate less reference, HRC.</param>
    /// <param name="slope">Slope of the lots per HRC.</param>
    /// <returns>The ladder with the usual scatter of hardness.</returns>
    /// <exception cref="PlanFaultException">They cannot be read; the message says what was found and expected.</exception>
    public static PlannedLadder Read(string reference, string? candidate, double difference, double slope)
    {
        IReadOnlyList<double> levels = Levels(reference, "reference");
        return new() { Reference = levels, Candidate = candidate is null ? [.. levels.Select(h => h + difference)] : Levels(candidate, "candidate"), Slope = slope };
    }

    /// <summary>Writes levels so that they are read back.</summary>
    public static string Write(IReadOnlyList<double> levels) => string.Join("; ", levels.Select(h => h.ToString("0.###", CultureInfo.InvariantCulture)));

    private static IReadOnlyList<double> Levels(string text, string lot)
    {
        string[] sides = text.Split('x', '×', '*');
        if (sides is [var many, var apart] && int.TryParse(many.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int count) && count is >= 2 and <= 20 && Number(apart.Replace("HRC", "", StringComparison.OrdinalIgnoreCase)) is > 0 and var step)
            return [.. Enumerable.Range(0, count).Select(i => Middle + step * (0.5 * (count - 1) - i))];
        // A comma separates levels unless a semicolon does: then it is a decimal comma.
        double?[] levels = [.. text.Replace("HRC", "", StringComparison.OrdinalIgnoreCase).Split(text.Contains(';', StringComparison.Ordinal) ? ';' : ',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(Number)];
        return levels.Length >= 2 && levels.All(h => h is > 0 and < 100)
            ? [.. levels.Select(h => h!.Value)]
            : throw new PlanFaultException($"“{text}” is no ladder of the {lot}; {Forms}.");
    }

    private static double? Number(string text) => double.TryParse(text.Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value) ? value : null;
}
