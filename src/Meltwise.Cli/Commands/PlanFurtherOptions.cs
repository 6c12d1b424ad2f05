using System.CommandLine;
using System.Globalization;
using Meltwise.Casework.Planning;
using Meltwise.Domain;

namespace Meltwise.Cli.Commands;

/// <summary>The options of <c>plan</c> for further primary properties: each with its margin, and what is known of it.</summary>
internal sealed class PlanFurtherOptions
{
    private readonly Option<string[]> _primary = Several("--primary", "A further primary property with its margin, \"hardness=1 HRC\": the lots must agree in all of them.");
    private readonly Option<string[]> _scatter = Several("--primary-cv", "Scatter of a further property within a heat, \"bend strength=0.08\": standard deviation of its logarithm, or of itself on a linear scale.");
    private readonly Option<string[]> _heatScatter = Several("--primary-heat-cv", "The same between heats; where nobody knows it, half of that within a heat.");
    private readonly Option<string[]> _truth = Several("--primary-true", "True ratio or difference of a further property, \"hardness=0.3\"; without it no difference, for the question better twice its margin.");
    private readonly Option<string[]> _mean = Several("--primary-mean", "Mean expected of the reference in a further property, for a margin in its unit.");
    private readonly Option<string[]> _cost = Several("--primary-cost", "What reading a further property adds to the cost of a coupon, \"bend strength=2\".");
    private readonly Option<string[]> _correlation = Several("--correlation", "Correlation of readings on one coupon: 0.5 for all pairs, or \"impact energy,bend strength=0.5\" for one. Without it that of the history where 20 degrees of freedom give one, else 0.");

    public IEnumerable<Option> All => [_primary, _scatter, _heatScatter, _truth, _mean, _cost, _correlation];

    /// <summary>The rule with the further primary properties that were typed.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="rule">The rule.</param>
    /// <param name="isWritten">True for the rule of an enquiry, which has its own.</param>
    public DecisionRule Over(ParseResult parsed, DecisionRule rule, bool isWritten)
    {
        if (OtherPropertyText.Margins(parsed, _primary) is not { } typed) return rule;
        if (isWritten) throw Fault.Usage("--primary belongs to the rule of the enquiry; leave it out, or leave out --enquiry.");
        HashSet<string> named = new(StringComparer.OrdinalIgnoreCase) { rule.Property };
        foreach (OtherProperty other in typed)
            if (!named.Add(other.Property)) throw Fault.Usage($"{other.Property} is named twice among --property and --primary; a property has one margin and one role.");
        return rule with { FurtherPrimaries = typed };
    }

    /// <summary>The further properties of a plan, and where their numbers come from.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="rule">The rule.</param>
    /// <param name="known">What the history knows.</param>
    /// <param name="hardnessDifference">Expected difference of hardness.</param>
    public (IReadOnlyList<FurtherPrimary> Further, IReadOnlyList<string> From) Read(ParseResult parsed, DecisionRule rule, RuleKnowledge known, double hardnessDifference)
    {
        string[] names = [.. known.Further.Select(f => f.Property.Property)];
        IReadOnlyDictionary<string, double> Typed(Option<string[]> option, string what, Func<double, bool> isGood) => OtherPropertyText.Numbers(parsed, option, names, what, isGood);
        IReadOnlyDictionary<string, double> scatter = Typed(_scatter, "a scatter above 0", v => v > 0), heats = Typed(_heatScatter, "a scatter from 0", v => v >= 0), truth = Typed(_truth, "a number", _ => true),
            mean = Typed(_mean, "a mean above 0", v => v > 0), cost = Typed(_cost, "a cost from 0", v => v >= 0);
        double?[,] together = Correlations(parsed, [rule.Property, .. names]);
        List<FurtherPrimary> further = [];
        List<string> from = [];
        for (int i = 0; i < names.Length; i++)
        {
            TypedFurther typed = new()
            {
                Scatter = Find(scatter, names[i]),
                HeatScatter = Find(heats, names[i]),
                Truth = Find(truth, names[i]),
                Mean = Find(mean, names[i]),
                CostPerReading = Find(cost, names[i]) ?? 0,
                Correlations = [.. Enumerable.Range(0, i + 1).Select(j => together[i + 1, j])],
            };
            if (typed.Scatter is null && known.Further[i].Known.WithinHeatSd is null)
                throw Fault.Usage($"The scatter of {names[i]} within a heat is not known from any history; give --primary-cv \"{names[i]}=...\".");
            (FurtherPrimary planned, string said) = typed.Over(rule, known.Further[i], hardnessDifference);
            further.Add(planned);
            from.Add(char.ToUpperInvariant(said[0]) + said[1..]);
        }
        return (further, from);
    }

    private double?[,] Correlations(ParseResult parsed, string[] properties)
    {
        double?[,] together = new double?[properties.Length, properties.Length];
        foreach (string typed in parsed.GetValue(_correlation) ?? [])
        {
            if (properties.Length == 1) throw Fault.Usage("--correlation is between properties; name another one with --primary.");
            if (Number(typed) is { } all)
            {
                for (int i = 0; i < properties.Length; i++)
                    for (int j = 0; j < i; j++) together[i, j] ??= all;
                continue;
            }
            if (!typed.Contains('=', StringComparison.Ordinal)) throw Fault.Usage($"--correlation \"{typed}\" is neither a number between -1 and 1 nor a pair such as \"impact energy,bend strength=0.5\".");
            (string pair, string value) = OtherPropertyText.Split(typed, "--correlation", "impact energy,bend strength=0.5");
            int[] places = [.. pair.Split(',', StringSplitOptions.TrimEntries).Select(n => Array.FindIndex(properties, p => p.Equals(PropertyTable.Find(n)?.Name ?? n, StringComparison.OrdinalIgnoreCase)))];
            if (places is not [>= 0 and var a, >= 0 and var b] || a == b) throw Fault.Usage($"--correlation \"{pair}\": two of {string.Join(", ", properties)} are needed, with a comma between them.");
            together[Math.Max(a, b), Math.Min(a, b)] = Number(value) ?? throw Fault.Usage($"--correlation {pair}: \"{value}\" is not a number between -1 and 1.");
        }
        return together;
    }

    private static double? Number(string text) => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && value is > -1 and < 1 ? value : null;

    private static double? Find(IReadOnlyDictionary<string, double> numbers, string name) => numbers.TryGetValue(name, out double value) ? value : null;

    private static Option<string[]> Several(string name, string description) => new(name) { Description = $"{description} May be given several times.", DefaultValueFactory = _ => [] };
}
