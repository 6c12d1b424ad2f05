using Meltwise.Casework.Judging;
using Meltwise.Casework.Studying;

namespace Meltwise.Publishing.Figures;

/// <summary>A treatment study: every coupon of every group, and groups compared at once, each comparison with its simultaneous intervals over the margin.</summary>
public static class StudyFigure
{
    private const int Most = 40;

    /// <summary>Builds it; null when nothing was compared.</summary>
    /// <param name="study">The study.</param>
    /// <param name="margin">The agreed margin on the ratio or difference, or null.</param>
    /// <param name="width">Drawn width, px.</param>
    public static Figure? Build(Study study, Limits? margin, double width = 820)
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
            Width = width,
            CaptionLead = "Compared at once.",
            Caption = $"{char.ToUpperInvariant(kind[0])}{kind[1..]}{(log ? ", log scale" : "")}; thick the narrow, thin the wide interval; both hold together for all comparisons of the figure.{(study.Comparisons.Count > Most ? $" The first {Most} of {study.Comparisons.Count}." : "")}",
            Panels =
            [
                new()
                {
                    Height = rows.Length * 42,
                    X = new() { Scale = log ? AxisScale.Logarithmic : AxisScale.Linear, Min = min, Max = max, Grid = margin is null, Ticks = log ? AxisTicks.Ratio(min, max, margin is { } g ? [g.Low, g.High] : []) : AxisTicks.Linear(min, max, 8), Title = kind },
                    Y = Axis.Rows(rows.Length),
                    Items = [.. Items(rows, margin, log)],
                    Left = [new(240, null, [.. rows.Select((r, i) => new TextCell(i + 0.5, [[new(r.Pair.Second, TextRole.Strong)], [new($"against {r.Pair.First}", TextRole.Quiet)]]))])],
                    Right = [new(200, log ? "ratio, wide interval" : "difference, wide interval", [.. rows.Select((r, i) => new TextCell(i + 0.5, [[new(Number(r.Estimate, log), TextRole.TableStrong), new($"  {Number(r.Wide.Low, log)} to {Number(r.Wide.High, log)}", TextRole.Table)], [new(OutcomeWords.Of(r.Pair.Outcome).Short, TextRole.Quiet)]]))])],
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

    /// <summary>Every coupon by its group, with the group's mean.</summary>
    /// <param name="study">The study.</param>
    /// <param name="linkOf">Address of a coupon; null without links.</param>
    /// <param name="width">Drawn width, px.</param>
    public static Figure Groups(Study study, Func<StudiedCoupon, string?>? linkOf = null, double width = 820)
    {
        bool log = study.Scale == "log";
        List<PanelItem> items = [];
        List<TextCell> names = [], numbers = [];
        for (int i = 0; i < study.Groups.Count; i++)
        {
            StudiedGroup group = study.Groups[i];
            double at = i + 0.5;
            names.Add(new(at, [[new(group.Name, TextRole.Strong)], [new($"{group.N} coupons, {group.Heats} {(group.Heats == 1 ? "heat" : "heats")}{(group.HardnessHrc is { } h ? $", {FigureLayout.Exact(Math.Round(h, 1))} HRC" : "")}", TextRole.Quiet)]]));
            numbers.Add(TextCell.Of(at, FigureNumbers.Value(group.Mean), TextRole.TableStrong));
            StudiedCoupon[] coupons = [.. study.Coupons.Where(c => c.Group == group.Name)];
            for (int k = 0; k < coupons.Length; k++)
            {
                // Coupons of one heat lie on one height, heats spread over the row, so that a heat that stands off is seen.
                double spread = Spread(coupons, k);
                items.Add(new PanelItem.Mark(coupons[k].Value, at + spread, MarkShape.Dot, 0.7, MarkState.None, $"{coupons[k].Heat}/{coupons[k].Coupon}", $"{FigureNumbers.Value(coupons[k].Value)} {study.Unit}", linkOf?.Invoke(coupons[k])));
            }
            items.Add(new PanelItem.Line([new(group.Mean, at - 0.42), new(group.Mean, at + 0.42)], LineRole.Heavy, "mean"));
        }
        (double min, double max) = AxisLimits.Of([.. study.Coupons.Select(c => c.Value)], log);
        return new()
        {
            Title = $"{Capital(study.Property)} by {string.Join(" and ", study.By)}",
            Description = $"Every coupon of {study.Groups.Count} groups with the group's {(log ? "geometric mean" : "mean")}.",
            Width = width,
            CaptionLead = "Every coupon.",
            Caption = $"{Capital(study.Property)}, {study.Unit}{(log ? ", log scale" : "")}; coupons of one heat on one height; the stroke is the group's {(log ? "geometric mean" : "mean")}, heats weighted as they scatter.",
            Panels =
            [
                new()
                {
                    Height = study.Groups.Count * 48,
                    X = new() { Scale = log ? AxisScale.Logarithmic : AxisScale.Linear, Min = min, Max = max, Title = $"{study.Property}, {study.Unit}" },
                    Y = Axis.Rows(study.Groups.Count),
                    Items = items,
                    Left = [new(250, null, names)],
                    Right = [new(70, log ? "geom. mean" : "mean", numbers)],
                    RowRules = [.. Enumerable.Range(0, study.Groups.Count + 1).Select(i => (double)i)],
                },
            ],
            Data = new(["group", "heat", "coupon", $"{study.Property} [{study.Unit}]"], [.. study.Coupons.Select(c => (IReadOnlyList<string>)[c.Group, c.Heat, c.Coupon, FigureLayout.Exact(c.Value)])]),
        };
    }

    private static double Spread(StudiedCoupon[] coupons, int k)
    {
        string[] heats = [.. coupons.Select(c => c.Heat).Distinct()];
        return heats.Length == 1 ? 0 : -0.32 + 0.64 * Array.IndexOf(heats, coupons[k].Heat) / (heats.Length - 1);
    }

    private static string Number(double value, bool log) => log ? FigureNumbers.Ratio(value) : FigureNumbers.Value(value);

    private static string Capital(string word) => char.ToUpperInvariant(word[0]) + word[1..];
}
