using System.CommandLine;
using System.Globalization;
using Meltwise.Casework.Asking;
using Meltwise.Domain;

namespace Meltwise.Cli.Commands;

/// <summary>A rule as typed on the command line, with the roles of the heats.</summary>
internal sealed record TypedRule(DecisionRule Rule, IReadOnlyList<string> Reference, IReadOnlyList<string> Candidate, FileInfo? History);

/// <summary>The options that make up a rule.</summary>
internal sealed class RuleOptions
{
    private readonly Option<string?> _reference = new("--reference") { Description = "Heat or heats of the reference: K17 or K17,K18." };
    private readonly Option<string?> _candidate = new("--candidate") { Description = "Heat or heats of the candidate." };
    private readonly Option<string> _property = new("--property") { Description = "Primary property.", DefaultValueFactory = _ => "impact energy" };
    private readonly Option<string?> _margin = new("--margin") { Description = $"Largest difference still called the same; {MarginText.Forms}." };
    private readonly Option<string> _question = Choice("--question", "What is asked.", "equivalent", "not-worse", "better", "difference");
    private readonly Option<string> _estimand = Choice("--estimand", "Which difference the verdict is about.", "as-tested", "equal-hardness", "sources");
    private readonly Option<string> _scatter = Choice("--scatter", "Own scatter of each lot, or moderated by the history's law.", "own", "lent");
    private readonly Option<FileInfo?> _history = new("--history") { Description = "Table of everything tested before." };
    private readonly Option<double?> _sessionSd = new("--session-sd") { Description = "Between-session standard deviation of hardness, HRC." };
    private readonly Option<bool> _separateSessions = new("--separate-sessions") { Description = "The lots' hardness was not measured in one session." };
    private readonly Option<double> _alpha = new("--alpha") { Description = "Error rate of each claim.", DefaultValueFactory = _ => 0.05 };
    private readonly Option<int?> _look = new("--look") { Description = "1 or 2: the rule plans one extension, so each look uses half of alpha." };
    private readonly Option<string?> _scale = new("--scale") { Description = "Overrides the property's scale: log or linear." };
    private readonly Option<string?> _better = new("--better") { Description = "Overrides the property's good direction: higher, lower or none." };
    private readonly Option<bool> _ladder = new("--ladder-slope") { Description = "Use the slope of a temper ladder instead of the slope between heats." };
    private readonly Option<string[]> _primaries = new("--primary") { Description = "A further primary property with its margin, \"hardness=1 HRC\": all must agree. May be given several times.", DefaultValueFactory = _ => [] };
    private readonly Option<string[]> _secondaries = new("--secondary") { Description = "A secondary property with its margin, \"retained austenite=±2 vol%\". May be given several times.", DefaultValueFactory = _ => [] };
    private readonly Option<string?> _family = new("--family") { Description = "Grade family whose history the trend may use." };

    public IEnumerable<Option> All =>
        [_reference, _candidate, _property, _margin, _question, _estimand, _scatter, _history, _sessionSd, _separateSessions, _alpha, _look, _scale, _better, _ladder, _family, _primaries, _secondaries];

    /// <summary>Reads the rule or says what is wrong with the command line.</summary>
    public TypedRule Read(ParseResult parsed)
    {
        Property property = PropertyOf(parsed);
        string marginText = parsed.GetValue(_margin) ?? throw Fault.Usage($"compare needs --margin; {MarginText.Forms}.");
        if (!MarginText.TryRead(marginText, property, out Margin? margin, out string fault)) throw Fault.Usage($"--margin: {fault}");
        double alpha = parsed.GetValue(_alpha);
        if (alpha is not (> 0 and < 0.5)) throw Fault.Usage(string.Create(CultureInfo.InvariantCulture, $"--alpha {alpha} is not an error rate; give a number above 0 and below 0.5."));
        if (parsed.GetValue(_look) is not (null or 1 or 2)) throw Fault.Usage($"--look {parsed.GetValue(_look)} is not a look; a rule plans at most one extension: 1 or 2.");
        if (parsed.GetValue(_sessionSd) is { } sd && !(sd >= 0)) throw Fault.Usage("--session-sd cannot be below 0.");
        DecisionRule rule = new()
        {
            Property = property.Name,
            Margin = margin!,
            Question = Pick<Question>(parsed.GetValue(_question)!),
            Estimand = Pick<Estimand>(parsed.GetValue(_estimand)!),
            Scatter = Pick<ScatterChoice>(parsed.GetValue(_scatter)!),
            Alpha = alpha,
            Look = parsed.GetValue(_look),
            Scale = property.Scale,
            Better = property.Better,
            SessionSdHrc = parsed.GetValue(_sessionSd),
            SeparateSessions = parsed.GetValue(_separateSessions),
            LadderSlope = parsed.GetValue(_ladder),
            TrendFamily = parsed.GetValue(_family),
            FurtherPrimaries = OtherPropertyText.Margins(parsed, _primaries),
            Secondaries = OtherPropertyText.Margins(parsed, _secondaries),
        };
        HashSet<string> named = new(StringComparer.OrdinalIgnoreCase) { rule.Property };
        foreach ((_, OtherProperty other) in rule.OtherProperties())
            if (!named.Add(other.Property)) throw Fault.Usage($"{other.Property} is named twice among --property, --primary and --secondary; a property has one margin and one role.");
        return new(rule, Heats(parsed, _reference), Heats(parsed, _candidate), parsed.GetValue(_history));
    }

    private Property PropertyOf(ParseResult parsed)
    {
        string name = parsed.GetValue(_property)!;
        Property? known = PropertyTable.Find(name);
        PropertyScale? scale = parsed.GetValue(_scale) switch { null => known?.Scale, "log" => PropertyScale.Logarithmic, "linear" => PropertyScale.Linear, { } other => throw Fault.Usage($"--scale {other} is neither log nor linear.") };
        GoodDirection? better = parsed.GetValue(_better) switch { null => known?.Better, "higher" => GoodDirection.Higher, "lower" => GoodDirection.Lower, "none" => GoodDirection.None, { } other => throw Fault.Usage($"--better {other} is none of higher, lower, none.") };
        if (scale is null || better is null)
            throw Fault.Usage($"--property \"{name}\" is not in the table of properties ({string.Join(", ", PropertyTable.All.Select(p => p.Name))}); give its --scale and --better.");
        return known is null ? new Property(name, scale.Value, better.Value, [new("-", 1)], double.MinValue, double.MaxValue) : known with { Scale = scale.Value, Better = better.Value };
    }

    private static IReadOnlyList<string> Heats(ParseResult parsed, Option<string?> option)
    {
        string[] heats = (parsed.GetValue(option) ?? "").Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);
        return heats.Length > 0 ? heats : throw Fault.Usage($"compare needs {option.Name} with the name of a heat.");
    }

    private static Option<string> Choice(string name, string description, params string[] values)
    {
        Option<string> option = new(name) { Description = description, DefaultValueFactory = _ => values[0] };
        option.AcceptOnlyFromAmong(values);
        return option;
    }

    private static T Pick<T>(string code) where T : struct, Enum => Enum.Parse<T>(code.Replace("-", "", StringComparison.Ordinal), ignoreCase: true);
}
