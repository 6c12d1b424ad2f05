using System.CommandLine;
using Meltwise.Casework.Asking;
using Meltwise.Casework.Judging;
using Meltwise.Domain;

namespace Meltwise.Cli.Commands;

/// <summary>The options of <c>plan</c> that make up the rule it plans for; over the rule of an enquiry, only what was typed counts.</summary>
internal sealed class PlanRuleOptions
{
    private readonly Option<string> _property = new("--property") { Description = "Property.", DefaultValueFactory = _ => PropertyTable.ImpactEnergy.Name };
    private readonly Option<string> _margin = new("--margin") { Description = $"Largest difference still called the same; {MarginText.Forms}.", DefaultValueFactory = _ => "0.80..1.25" };
    private readonly Option<string> _question = Choice("--question", "What is asked.", [.. Enum.GetValues<Question>().Select(q => q.Code())]);
    private readonly Option<string?> _estimand = new("--estimand") { Description = "Which difference the verdict is about: as-tested, equal-hardness or sources. Without it one heat a side means as tested, more the sources." };
    private readonly Option<string> _scatter = Choice("--scatter", "Own scatter of each lot, or moderated by the history's law.", [.. Enum.GetValues<ScatterChoice>().Select(s => s.Code())]);
    private readonly Option<bool> _ladderSlope = new("--ladder-slope") { Description = "At equal hardness by the slope of the history's temper ladders instead of that between heats." };
    private readonly Option<double> _alpha = new("--alpha") { Description = "Error rate of each claim.", DefaultValueFactory = _ => 0.05 };

    public IEnumerable<Option> All => [_property, _margin, _question, _estimand, _scatter, _ladderSlope, _alpha];

    /// <summary>True where an estimand was typed.</summary>
    public bool NamesEstimand(ParseResult parsed) => parsed.GetValue(_estimand) is not null;

    /// <summary>The rule as typed, or the usual one.</summary>
    public DecisionRule Read(ParseResult parsed)
    {
        Property property = PropertyTable.Find(parsed.GetValue(_property)!) ?? throw Fault.Usage($"--property \"{parsed.GetValue(_property)}\" is not in the table of properties ({string.Join(", ", PropertyTable.All.Select(p => p.Name))}).");
        bool isTyped = parsed.GetResult(_margin) is { Implicit: false };
        string text = isTyped || property.Scale == PropertyScale.Logarithmic ? parsed.GetValue(_margin)! : throw Fault.Usage($"{property.Name} is compared by difference; give its --margin, such as 1 {property.StoredUnit.Name}.");
        return new()
        {
            Property = property.Name,
            Margin = Margin(text, property),
            Question = Pick<Question>(parsed.GetValue(_question)!),
            Estimand = Estimand(parsed),
            Scatter = Pick<ScatterChoice>(parsed.GetValue(_scatter)!),
            LadderSlope = parsed.GetValue(_ladderSlope),
            Alpha = parsed.GetValue(_alpha),
        };
    }

    /// <summary>The rule of an enquiry with what was typed in its place.</summary>
    public DecisionRule Over(ParseResult parsed, DecisionRule rule)
    {
        bool Typed(Option option) => parsed.GetResult(option) is { Implicit: false };
        if (Typed(_property)) throw Fault.Usage("--property belongs to the rule of the enquiry; leave it out, or leave out --enquiry.");
        Property property = PropertyTable.Find(rule.Property) ?? throw Fault.Input($"The rule's property '{rule.Property}' is not in the table of properties.");
        return rule with
        {
            Margin = Typed(_margin) ? Margin(parsed.GetValue(_margin)!, property) : rule.Margin,
            Question = Typed(_question) ? Pick<Question>(parsed.GetValue(_question)!) : rule.Question,
            Estimand = parsed.GetValue(_estimand) is null ? rule.Estimand : Estimand(parsed),
            Scatter = Typed(_scatter) ? Pick<ScatterChoice>(parsed.GetValue(_scatter)!) : rule.Scatter,
            LadderSlope = rule.LadderSlope || parsed.GetValue(_ladderSlope),
            Alpha = Typed(_alpha) ? parsed.GetValue(_alpha) : rule.Alpha,
        };
    }

    private static Margin Margin(string text, Property property) =>
        MarginText.TryRead(text, property, out Margin? margin, out string fault) ? margin! : throw Fault.Usage($"--margin: {fault}");

    private Estimand Estimand(ParseResult parsed) => parsed.GetValue(_estimand) switch
    {
        null or "as-tested" => Domain.Estimand.AsTested,
        "equal-hardness" => Domain.Estimand.EqualHardness,
        "sources" => Domain.Estimand.Sources,
        { } other => throw Fault.Usage($"--estimand {other} is none of as-tested, equal-hardness, sources."),
    };

    private static Option<string> Choice(string name, string description, string[] values)
    {
        Option<string> option = new(name) { Description = description, DefaultValueFactory = _ => values[0] };
        option.AcceptOnlyFromAmong(values);
        return option;
    }

    private static T Pick<T>(string code) where T : struct, Enum => Enum.Parse<T>(code.Replace("-", "", StringComparison.Ordinal), ignoreCase: true);
}
