using Meltwise.Casework.Asking;
using Meltwise.Casework.Planning;
using Meltwise.Domain;

namespace Meltwise.Web.Planner;

/// <summary>The planner's lines of the further primary properties, read.</summary>
internal static class TypedFurtherLines
{
    /// <summary>Offers the further primary properties of a rule on lines that nothing was typed on.</summary>
    /// <exception cref="PlannerFaultException">They are more than the page takes.</exception>
    public static void Offer(PlannerForm form, DecisionRule rule)
    {
        if (rule.FurtherPrimaries?.Count >= PlannerForm.MostProperties)
        {
            throw new PlannerFaultException($"The rule has {rule.FurtherPrimaries.Count + 1} primary properties, and this page plans at most {PlannerForm.MostProperties}. “meltwise plan --enquiry” takes any number.");
        }

        foreach ((int i, OtherProperty other) in (rule.FurtherPrimaries ?? []).Index())
        {
            form.Set($"property{i + 2}", other.Property);
            form.Offer($"margin{i + 2}", MarginText.Write(other.Margin));
        }
    }

    /// <summary>The margin that is usual where none was typed.</summary>
    public static string UsualMargin(Property property) => property.Scale == PropertyScale.Logarithmic ? "25%" : $"1 {property.StoredUnit.Name}";

    /// <summary>The further properties with their margins; null where there are none.</summary>
    /// <param name="form">What was typed.</param>
    /// <param name="first">The first property.</param>
    /// <param name="written">The rule of the enquiry, whose own scale and direction of a property are kept; null without one.</param>
    /// <exception cref="PlannerFaultException">A line cannot be read.</exception>
    public static IReadOnlyList<OtherProperty>? Properties(PlannerForm form, Property first, DecisionRule? written)
    {
        List<OtherProperty> further = [];
        HashSet<string> named = new(StringComparer.OrdinalIgnoreCase) { first.Name };
        foreach (int line in form.FurtherLines())
        {
            string name = form[$"property{line}"];
            Property property = PropertyTable.Find(name) ?? throw new PlannerFaultException($"“{name}” is not in the table of properties.");
            if (!named.Add(property.Name))
            {
                throw new PlannerFaultException($"{property.Name} is named twice. A property has one margin and one role.");
            }

            if (!MarginText.TryRead(form.Typed($"margin{line}") ?? UsualMargin(property), property, out Margin? margin, out string fault))
            {
                throw new PlannerFaultException($"Margin of {property.Name}: {fault}");
            }

            further.Add(written?.FurtherPrimaries?.FirstOrDefault(o => o.Property == property.Name) is { } own ? own with { Margin = margin! } : new(property.Name, margin!));
        }

        return further.Count > 0 ? further : null;
    }

    /// <summary>The further properties of the plan, and where their numbers come from.</summary>
    /// <param name="form">What was typed.</param>
    /// <param name="rule">The rule.</param>
    /// <param name="known">What the bench knows.</param>
    /// <param name="hardnessDifference">Expected difference of hardness where it counts; null as tested.</param>
    public static (IReadOnlyList<FurtherPrimary> Further, IReadOnlyList<string> From) Read(PlannerForm form, DecisionRule rule, RuleKnowledge known, double? hardnessDifference)
    {
        List<FurtherPrimary> further = [];
        List<string> from = [];
        foreach ((int i, int line) in form.FurtherLines().Index())
        {
            string name = known.Further[i].Property.Property;
            bool ratio = PropertyTable.Find(name)?.Scale == PropertyScale.Logarithmic;
            TypedFurther typed = new()
            {
                Scatter = form.Maybe($"cv{line}", $"Scatter of {name} in a heat", 1e-4, 1000),
                HeatScatter = form.Maybe($"heatcv{line}", $"Scatter of {name} among heats", 0, 1000),
                Truth = form.Maybe($"true{line}", $"Truth of {name}", ratio ? 0.01 : -1e6, ratio ? 100 : 1e6),
                CostPerReading = form.Maybe($"cost{line}", $"Cost of reading {name}", 0, 1e9) ?? 0,
                Correlations = [.. Enumerable.Range(1, i + 1).Select(j => form.Maybe($"corr{line}{j}", $"Correlation of {name}", -0.99, 0.99))],
            };
            if (typed.Scatter is null && known.Further[i].Known.WithinHeatSd is null)
            {
                throw new PlannerFaultException($"The bench does not know how {name} scatters within a heat. Type its scatter on its line.");
            }

            (FurtherPrimary planned, string said) = typed.Over(rule, known.Further[i], hardnessDifference);
            further.Add(planned);
            from.Add(char.ToUpperInvariant(said[0]) + said[1..]);
        }

        return (further, from);
    }
}
