using Meltwise.Casework.Judging;
using Meltwise.Casework.Studying;

namespace Meltwise.Publishing.Figures;

/// <summary>Groups of a treatment study compared at once: each comparison with its simultaneous intervals over the margin.</summary>
public static class StudyFigure
{
    private const int Most = 40;

    /// <summary>Builds it; null when nothing was compared.</summary>
    /// <param name="study">The study.</param>
    /// <param name="margin">The agreed margin on the ratio or difference, or null.</param>
    public static Figure? Build(Study study, Limits? margin)
    {
        bool log = study.Scale == "log";
        (StudiedPair Pair, double Estimate, Limits Wide, Limits Narrow)[] rows = [.. study.Comparisons.Take(Most).Select(p => log
            ? (p, p.Ratio!.Estimate, new Limits(p.Ratio.Lower, p.Ratio.Upper), new Limits(p.RatioForMargin!.Lower, p.RatioForMargin.Upper))
            : (p, p.Difference!.Estimate, new Limits(p.Difference.Lower, p.Difference.Upper), new Limits(p.DifferenceForMargin!.Lower, p.DifferenceForMargin.Upper)))];
        if (rows.Length == 0)
            return null;
        string kind = log ? "ratio second / first" : $"difference second − first, {study.Unit}";
        List<double> shown = [.. rows.SelectMany(r => new[] { r.Wide.Low, r.Wide.High }), log ? 1 : 0];
        if (margin is { } m)
            shown.AddRange([m.Low, m.High]);
        (double min, double max) = AxisLimits.Of(shown, log);
        return new()
        {
            Title = study.Control is { } control ? $"Each {string.Join(" and ", study.By)} against {control}" : $"Every {string.Join(" and ", study.By)} against every other",
            Description = $"{rows.Length} comparisons of groups with simultaneous intervals{(margin is null ? "" : " over the agreed margin")}.",
            CaptionLead = "Compared at once.",
            Caption = $"{char.ToUpperInvariant(kind[0])}{kind[1..]}{(log ? ", log scale" : "")}; thick the narrow, thin the wide interval; both hold together for all comparisons of the figure.{(study.Comparisons.Count > Most ? $" The first {Most} of {study.Comparisons.Count}." : "")}",
            Panels =
            [
                new()
                {
                    Height = rows.Length * 28,
                    X = new() { Scale = log ? AxisScale.Logarithmic : AxisScale.Linear, Min = min, Max = max, Grid = margin is null, Ticks = log ? AxisTicks.Ratio(min, max, margin is { } g ? [g.Low, g.High] : []) : AxisTicks.Linear(min, max, 8), Title = kind },
                    Y = Axis.Rows(rows.Length),
                    Items = [.. Items(rows, margin, log)],
                    Left = [new(300, null, [.. rows.Select((r, i) => new TextCell(i + 0.5, [[new(r.Pair.Second, TextRole.Strong), new($"  against {r.Pair.First}", TextRole.Quiet)]]))])],
                    Right = [new(190, "outcome", [.. rows.Select((r, i) => TextCell.Of(i + 0.5, OutcomeWords.Of(r.Pair.Outcome).Short, TextRole.Table))])],
                    RowRules = [0, rows.Length],
                },
            ],
            Data = new(["second", "first", kind, "lower", "upper", "lower, narrow", "upper, narrow", "outcome"],
                [.. rows.Select(r => (IReadOnlyList<string>)[r.Pair.Second, r.Pair.First, FigureLayout.Exact(r.Estimate), FigureLayout.Exact(r.Wide.Low), FigureLayout.Exact(r.Wide.High), FigureLayout.Exact(r.Narrow.Low), FigureLayout.Exact(r.Narrow.High), OutcomeWords.Of(r.Pair.Outcome).Short])]),
        };
    }

    private static IEnumerable<PanelItem> Items((StudiedPair Pair, double Estimate, Limits Wide, Limits Narrow)[] rows, Limits? margin, bool log)
    {
        if (margin is { } m)
            yield return new PanelItem.MarginShade(Along.X, m.Low, m.High, log ? 1 : 0, log ? $"margin {FigureNumbers.Ratio(m.Low)} to {FigureNumbers.Ratio(m.High)}" : $"margin ±{FigureNumbers.Value(m.High)}");
        for (int i = 0; i < rows.Length; i++)
        {
            yield return new PanelItem.Interval(Along.X, i + 0.5, rows[i].Wide.Low, rows[i].Wide.High, rows[i].Narrow.Low, rows[i].Narrow.High, false);
            yield return new PanelItem.Mark(rows[i].Estimate, i + 0.5, MarkShape.Dot, 1.1, MarkState.None, $"{rows[i].Pair.Second} against {rows[i].Pair.First}", rows[i].Pair.Text);
        }
    }
}
