namespace Meltwise.Publishing.Figures;

/// <summary>One pair of lots ever compared.</summary>
/// <param name="Name">Enquiry.</param>
/// <param name="Detail">Lots or sources.</param>
/// <param name="Ratio">Ratio.</param>
/// <param name="Low">Lower limit, 95 %.</param>
/// <param name="High">Upper limit, 95 %.</param>
/// <param name="This">Whether it is the enquiry at hand.</param>
/// <param name="Link">Where a click leads.</param>
public sealed record ForestRow(string Name, string Detail, double Ratio, double Low, double High, bool This = false, string? Link = null);

/// <summary>All pairs ever tested: each ratio with its interval, the mean and where the next pair is expected.</summary>
public static class ForestFigure
{
    /// <summary>Builds it.</summary>
    /// <param name="rows">Pairs, at least one.</param>
    /// <param name="mean">Mean with its 95 % interval, only for pairs of one orientation.</param>
    /// <param name="next">Where the next pair is expected, 95 %.</param>
    /// <param name="margin">The agreed margin, or null.</param>
    /// <param name="orientation">What each ratio is of, <c>R over P</c>; null when the pairs are of no one orientation.</param>
    public static Figure Build(IReadOnlyList<ForestRow> rows, (double Estimate, Limits Range)? mean, Limits? next, Limits? margin, string? orientation = null)
    {
        string ratio = orientation ?? "candidate / reference";
        List<PanelItem> items = [];
        List<TextCell> names = [], numbers = [];
        if (margin is { } m)
            items.Add(new PanelItem.MarginShade(Along.X, m.Low, m.High, 1, $"margin {FigureNumbers.Ratio(m.Low)} to {FigureNumbers.Ratio(m.High)}"));
        for (int i = 0; i < rows.Count; i++)
        {
            ForestRow row = rows[i];
            double at = i + 0.5;
            names.Add(new(at, [[new(row.Name, row.This ? TextRole.Hot : TextRole.Strong), new("  " + row.Detail, TextRole.Quiet)]]));
            numbers.Add(Numbers(at, row.Ratio, new(row.Low, row.High)));
            items.Add(new PanelItem.Interval(Along.X, at, row.Low, row.High, null, null, row.This));
            items.Add(new PanelItem.Mark(row.Ratio, at, row.This ? MarkShape.Lozenge : MarkShape.Dot, 1.15, MarkState.None, row.Name, $"{row.Detail}: ratio {FigureNumbers.Ratio(row.Ratio)}, {FigureNumbers.Ratio(row.Low)} to {FigureNumbers.Ratio(row.High)}", row.Link));
        }
        int count = rows.Count;
        if (mean is { } all)
        {
            double at = count++ + 0.5;
            names.Add(TextCell.Of(at, "mean of the pairs", TextRole.Strong));
            numbers.Add(Numbers(at, all.Estimate, all.Range));
            Limits outer = next ?? all.Range;
            items.Add(new PanelItem.Interval(Along.X, at, outer.Low, outer.High, all.Range.Low, all.Range.High, false));
            items.Add(new PanelItem.Mark(all.Estimate, at, MarkShape.Square, 1, MarkState.None, "mean of the pairs", $"{FigureNumbers.Ratio(all.Estimate)}, thick 95 % of the mean, thin 95 % of the next pair"));
        }
        List<double> shown = [.. rows.SelectMany(r => new[] { r.Low, r.High, r.Ratio }), 1];
        if (margin is { } limits)
            shown.AddRange([limits.Low, limits.High]);
        if (next is { } n)
            shown.AddRange([n.Low, n.High]);
        (double min, double max) = AxisLimits.Of(shown, true);
        return new()
        {
            Title = "All pairs tested so far",
            Description = $"Ratio with 95 % interval of {rows.Count} pairs of lots{(mean is null ? "" : ", their mean and where the next pair is expected")}.",
            CaptionLead = "All pairs so far.",
            Caption = $"Ratio {ratio}, log scale; thin bar 95 %.{(orientation is null ? " The pairs are not of one orientation: candidate over reference has no common meaning, and no mean is given." : " A pair compared the other way round is turned.")}{(mean is null ? "" : " Last row: thick, 95 % of the mean; thin, where the next pair is expected.")}",
            Panels =
            [
                new()
                {
                    Height = count * 28,
                    X = new() { Scale = AxisScale.Logarithmic, Min = min, Max = max, Grid = margin is null, Ticks = AxisTicks.Ratio(min, max, margin is { } g ? [g.Low, g.High] : []), Title = $"ratio {ratio}, log scale" },
                    Y = Axis.Rows(count),
                    Items = items,
                    Left = [new(260, null, names)],
                    Right = [new(140, "ratio, 95 %", numbers)],
                    RowRules = mean is null ? [0, count] : [0, count - 1, count],
                },
            ],
            Data = new(["pair", "lots", "ratio", "lower 95 %", "upper 95 %"], [.. rows.Select(r => (IReadOnlyList<string>)[r.Name, r.Detail, FigureLayout.Exact(r.Ratio), FigureLayout.Exact(r.Low), FigureLayout.Exact(r.High)])]),
        };
    }

    private static TextCell Numbers(double row, double ratio, Limits range) =>
        new(row, [[new(FigureNumbers.Ratio(ratio), TextRole.TableStrong), new($"  {FigureNumbers.Ratio(range.Low)} to {FigureNumbers.Ratio(range.High)}", TextRole.Table)]]);
}
