using System.Globalization;
using System.Text.RegularExpressions;
using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Explanation;

namespace Meltwise.Casework.Explaining;

/// <summary>A composition typed with uncertainties: <c>C 1.50±0.02, Cr 12.0, Mo 0.8</c>, mass percent.</summary>
public static partial class TypedSteel
{
    /// <summary>Laboratory name that two typed compositions share, so that the bias of a method cancels in their difference.</summary>
    private const string SharedLaboratory = "typed";

    /// <summary>Reads a composition.</summary>
    /// <param name="name">Name for messages and results.</param>
    /// <param name="text">What was typed; standard uncertainty after ± or +-.</param>
    /// <param name="fault">What is wrong, in words; empty when nothing is.</param>
    public static HeatChemistry? Read(string name, string text, out string fault)
    {
        List<(string Element, double MassPercent, double? StandardUncertainty)> contents = [];
        foreach (string entry in text.Split([',', ';', '\n'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            Match match = Entry().Match(entry);
            if (!match.Success)
            {
                fault = $"{name}: found \"{entry}\"; expected a symbol and a mass percent of 0 or more, as in C 1.50 or C 1.50±0.02, with a decimal point";
                return null;
            }
            if (contents.Any(c => c.Element == match.Groups["element"].Value))
            {
                fault = $"{name}: {match.Groups["element"].Value} is given twice; give each element once";
                return null;
            }
            contents.Add((match.Groups["element"].Value, Number(match.Groups["value"]), match.Groups["u"].Success ? Number(match.Groups["u"]) : null));
        }
        fault = contents.Count == 0 ? $"{name}: found nothing; expected a composition as in C 1.50, Cr 12.0" : "";
        try
        {
            return contents.Count == 0 ? null : ChemistrySelection.Typed(name, contents, SharedLaboratory);
        }
        catch (SteelCompositionException wrong)
        {
            fault = $"{name}: {wrong.Message.TrimEnd('.')}";
            return null;
        }
    }

    private static double Number(Group group) => double.Parse(group.Value, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"^(?<element>[A-Z][a-z]?) *[ =:] *(?<value>[0-9]*\.?[0-9]+) *%? *((±|\+-|\+/-) *(?<u>[0-9]*\.?[0-9]+) *%?)?$", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Entry();
}
