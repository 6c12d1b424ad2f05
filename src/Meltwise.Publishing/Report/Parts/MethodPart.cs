using Meltwise.Casework.Judging;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>Uncertainty and the decision rule: the methods as the verdict states them.</summary>
internal static class MethodPart
{
    public static ReportPart Of(ReportInput input)
    {
        Verdict v = input.Verdict;
        string narrow = FigureNumbers.Level(1 - (2 * v.Rule.Alpha)), wide = FigureNumbers.Level(1 - v.Rule.Alpha);
        List<Rich> lines = [$"Decision rule: agreement within the margin is claimed when the {narrow} range lies inside it, a difference when the {wide} range excludes none; touching a limit is no claim. No other claim is made."];
        if (v.ScatterLaw is { } law)
            lines.Add($"Scatter law: SD grows as the mean to the power {FigureNumbers.Ratio(law.Exponent)}{(law.Interval is { } i ? $" ({FigureNumbers.Ratio(i.Lower)} to {FigureNumbers.Ratio(i.Upper)}, 95 %)" : "")}, {(law.Source == "history" ? $"from {law.Groups} groups of the bench" : "assumed")}.");
        foreach ((string name, EstimandResult? result) in new (string, EstimandResult?)[] { ("A", v.AsTested), ("B", v.EqualHardness), ("C", v.Sources) })
        {
            if (result is { Stands: true, DegreesOfFreedom: { } df })
                lines.Add($"{name}: {AxisTicks.Write(df, 1)} degrees of freedom.{string.Concat(result.Notes.Select(n => " " + ReportWords.Ended(n)))}");
        }
        lines.AddRange(v.Notes.Select(n => (Rich)ReportWords.Ended(n)));
        if (v.Finding.Firmness is { } firm)
            lines.Add(ReportWords.Ended(firm));
        return new("Uncertainty and decision rule", [new Block.Items(lines)]);
    }
}
