using System.CommandLine;
using System.Globalization;
using Meltwise.Casework.Planning;
using Meltwise.Domain;

namespace Meltwise.Cli.Commands;

/// <summary>The options of <c>plan</c> about hardness: the slope of the property, the difference of the lots, a temper ladder of both.</summary>
internal sealed class PlanHardnessOptions
{
    private readonly Option<string?> _slope = new("--slope") { Description = "Change of ln(property) per HRC with its standard error: -0.09±0.02; with --ladder the slope alone." };
    private readonly Option<double> _slopeDf = new("--slope-df") { Description = "Degrees of freedom of the standard error of --slope.", DefaultValueFactory = _ => 20 };
    private readonly Option<double> _difference = new("--hardness-difference") { Description = "Expected difference of hardness, candidate less reference, HRC.", DefaultValueFactory = _ => 0 };
    private readonly Option<double?> _scatter = new("--hardness-sd") { Description = "Scatter of a coupon's hardness in one heat and treatment, HRC; without it the history's, else 0.3." };
    private readonly Option<string?> _ladder = new("--ladder") { Description = $"Both lots over one temper ladder, compared at equal hardness without history; --coupons are those at each level. Of the reference, {LadderText.Forms}." };
    private readonly Option<string?> _candidate = new("--ladder-candidate") { Description = "The candidate's levels at the same tempers; without it the reference's moved by --hardness-difference." };
    private readonly Option<double> _slopeDifference = new("--slope-difference") { Description = "The candidate's slope less the reference's, for lines that are not parallel.", DefaultValueFactory = _ => 0 };

    public IEnumerable<Option> All => [_slope, _slopeDf, _difference, _scatter, _ladder, _candidate, _slopeDifference];

    /// <summary>Expected difference of hardness, HRC.</summary>
    public double Difference(ParseResult parsed) => parsed.GetValue(_difference);

    /// <summary>Levels of the ladder; 1 without one.</summary>
    public int Levels(ParseResult parsed) => parsed.GetValue(_ladder) is { } levels ? LadderText.Read(levels, null, 0, 0).Levels : 1;

    /// <summary>True for a plan over a temper ladder of both lots.</summary>
    public bool IsLadder(ParseResult parsed) => parsed.GetValue(_ladder) is not null;

    /// <summary>The slope that was typed as a trend; null without one, or where it belongs to a ladder.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="known">What the history knows; null without one.</param>
    public PlannedTrend? Trend(ParseResult parsed, BenchKnowledge? known)
    {
        if (parsed.GetValue(_slope) is not { } text || IsLadder(parsed)) return null;
        (double slope, double? error) = Slope(text);
        if (!(parsed.GetValue(_slopeDf) >= 1)) throw Fault.Usage("--slope-df: at least 1 degree of freedom is needed.");
        return new(slope, error ?? throw Fault.Usage($"--slope \"{text}\" is no slope with its standard error; write -0.09±0.02."), parsed.GetValue(_slopeDf), Difference(parsed), Scatter(parsed, known), 100);
    }

    /// <summary>The ladder; null where none was typed.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="known">What the history knows; null without one.</param>
    public PlannedLadder? Ladder(ParseResult parsed, BenchKnowledge? known)
    {
        if (parsed.GetValue(_ladder) is not { } levels)
        {
            return parsed.GetValue(_candidate) is null ? null : throw Fault.Usage("--ladder-candidate belongs to a ladder; give the reference's levels with --ladder.");
        }
        double slope = parsed.GetValue(_slope) is { } typed ? Slope(typed).Slope
            : known?.Trend?.Slope ?? throw Fault.Usage("--ladder needs the change of ln(property) per HRC, --slope -0.09; no history gives one.");
        return LadderText.Read(levels, parsed.GetValue(_candidate), Difference(parsed), slope) with { SlopeDifference = parsed.GetValue(_slopeDifference), HardnessSd = Scatter(parsed, known) };
    }

    private double Scatter(ParseResult parsed, BenchKnowledge? known) => parsed.GetValue(_scatter) switch
    {
        null => known?.HardnessSd ?? PlannedLadder.UsualHardnessSd,
        >= 0 and var typed => typed,
        _ => throw Fault.Usage("--hardness-sd cannot be below 0."),
    };

    private static (double Slope, double? Error) Slope(string text)
    {
        string[] parts = text.Replace('−', '-').Split(["±", "+-", "+/-"], StringSplitOptions.TrimEntries);
        if (parts.Length > 2 || Number(parts[0]) is not { } slope) throw Fault.Usage($"--slope \"{text}\" is no slope; write -0.09±0.02, or -0.09 for a ladder.");
        if (parts.Length == 1) return (slope, null);
        return Number(parts[1]) is >= 0 and var error ? (slope, error) : throw Fault.Usage($"--slope \"{text}\" is no slope with its standard error; write -0.09±0.02.");
    }

    private static double? Number(string text) => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value) ? value : null;
}
