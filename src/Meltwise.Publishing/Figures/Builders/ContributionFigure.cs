using Meltwise.Casework.Explaining;

namespace Meltwise.Publishing.Figures;

/// <summary>What each element contributes to a hardness difference, what they come to, and what was observed.</summary>
public static class ContributionFigure
{
    private const double Half = 0.26;

    /// <summary>Builds it.</summary>
    public static Figure Build(ExplanationDocument document)
    {
        List<(string Name, string Note, double Estimate, double Low, double High, BarFill Fill)> rows =
            [.. document.Contributions.Select(c => (c.Element, $"{FigureNumbers.Signed(c.MassPercentDifference, 3)} wt%", c.HardnessHrc.Estimate, c.HardnessHrc.Lower, c.HardnessHrc.Upper, BarFill.Grey))];
        ExplainedInterval all = document.Difference.HardnessHrc;
        rows.Add(("chemistry in all", "", all.Estimate, all.Lower, all.Upper, BarFill.Solid));
        if (document.Observed is { } seen)
            rows.Add(("observed", "", seen.Hrc, seen.Hrc - (1.96 * seen.StandardUncertainty), seen.Hrc + (1.96 * seen.StandardUncertainty), BarFill.Outline));
        List<PanelItem> items = [];
        List<TextCell> names = [], numbers = [];
        for (int i = 0; i < rows.Count; i++)
        {
            var row = rows[i];
            double at = i + 0.5;
            names.Add(new(at, [[new(row.Name, TextRole.Strong), new("  " + row.Note, TextRole.Quiet)]]));
            numbers.Add(new(at, [[new(FigureNumbers.Signed(row.Estimate, 2), TextRole.TableStrong), new($"  {FigureNumbers.Signed(row.Low, 2)} to {FigureNumbers.Signed(row.High, 2)}", TextRole.Table)]]));
            items.Add(new PanelItem.Bar(0, at - Half, row.Estimate, at + Half, row.Fill, row.Name, $"{FigureNumbers.Signed(row.Estimate, 2)} HRC, {FigureNumbers.Signed(row.Low, 2)} to {FigureNumbers.Signed(row.High, 2)}"));
            items.Add(new PanelItem.Interval(Along.X, at, row.Low, row.High, null, null, false));
        }
        (double min, double max) = AxisLimits.Of([0, .. rows.SelectMany(r => new[] { r.Estimate, r.Low, r.High })], false);
        int elements = document.Contributions.Count;
        items.Add(new PanelItem.Line([new(0, 0), new(0, rows.Count)], LineRole.Thin));
        return new()
        {
            Title = document.Observed is { } o ? $"Chemistry explains {FigureNumbers.Signed(all.Estimate, 1)} of {FigureNumbers.Signed(o.Hrc, 1)} HRC" : $"Chemistry makes a difference of {FigureNumbers.Signed(all.Estimate, 1)} HRC",
            Description = document.Text,
            CaptionLead = "Calculated parts of the hardness difference,",
            Caption = $"{document.Candidate.Heat} − {document.Reference.Heat}; bars with {FigureNumbers.Level(all.Level)} ranges{(document.Observed is null ? "" : ", the observed one with 95 %")}. The chain’s own error in a difference is {AxisTicks.Write(document.ChainErrorHrc, 1)} HRC (one standard deviation).",
            Panels =
            [
                new()
                {
                    Height = rows.Count * 27,
                    X = new() { Min = min, Max = max, Title = "hardness difference, HRC" },
                    Y = Axis.Rows(rows.Count),
                    Items = items,
                    Left = [new(210, null, names)],
                    Right = [new(180, "HRC, range", numbers)],
                    RowRules = [0, elements, rows.Count],
                },
            ],
            Data = new(["part", "difference of content [wt%]", "hardness [HRC]", "lower", "upper"], [.. rows.Select(r => (IReadOnlyList<string>)[r.Name, r.Note, FigureLayout.Exact(r.Estimate), FigureLayout.Exact(r.Low), FigureLayout.Exact(r.High)])]),
        };
    }
}
