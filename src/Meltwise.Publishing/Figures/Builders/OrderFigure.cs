namespace Meltwise.Publishing.Figures;

/// <summary>A reading in the order of testing.</summary>
/// <param name="Order">Number in the order, from 1.</param>
/// <param name="Value">Value.</param>
/// <param name="Shape">Mark; all alike while the key is sealed.</param>
/// <param name="Name">Name or code.</param>
/// <param name="State">State.</param>
/// <param name="Link">Where a click leads.</param>
public sealed record OrderedReading(int Order, double Value, MarkShape Shape, string Name, MarkState State = MarkState.None, string? Link = null);

/// <summary>Readings in the order of testing, over the band that the bench expects: drift, a mix-up or a slip of unit show here first.</summary>
public static class OrderFigure
{
    /// <summary>Builds it.</summary>
    /// <param name="property">Property.</param>
    /// <param name="unit">Unit.</param>
    /// <param name="readings">Readings.</param>
    /// <param name="expected">Band the bench expects, or null.</param>
    /// <param name="log">Log axis.</param>
    /// <param name="planned">Readings planned, so that the axis does not grow while they are made; 0 ends it with the last reading.</param>
    /// <param name="width">Drawn width, px.</param>
    /// <param name="height">Height of the plot, px.</param>
    public static Figure Build(string property, string unit, IReadOnlyList<OrderedReading> readings, Limits? expected, bool log, int planned = 0, double width = 820, double height = 260)
    {
        double last = Math.Max(Math.Max(1, planned), readings.Count == 0 ? 1 : readings.Max(r => r.Order));
        List<double> shown = [.. readings.Select(r => r.Value)];
        if (expected is { } e)
            shown.AddRange([e.Low, e.High]);
        if (shown.Count == 0)
            shown.AddRange([1, 10]);
        (double min, double max) = AxisLimits.Of(shown, log);
        List<PanelItem> items = [];
        if (expected is { } band)
            items.Add(new PanelItem.Band([new(0.4, band.Low, band.High), new(last + 0.6, band.Low, band.High)], false, true));
        items.AddRange(readings.Select(r => new PanelItem.Mark(r.Order, r.Value, r.Shape, 1, r.State, r.Name, $"{FigureNumbers.Value(r.Value)} {unit}, number {r.Order}", r.Link, Along.Y)));
        int step = (int)Math.Max(1, Math.Ceiling(last * 34 / width));
        return new()
        {
            Title = $"{char.ToUpperInvariant(property[0])}{property[1..]} in the order of testing",
            Description = $"{readings.Count} readings of {property} in the order of testing.",
            CaptionLead = "In the order of testing.",
            Caption = expected is null ? $"{readings.Count} readings." : $"{readings.Count} readings; band: where the bench expects 95 % of them.",
            Width = width,
            Panels =
            [
                new()
                {
                    Height = height,
                    X = new() { Min = 0.4, Max = last + 0.6, Grid = false, Title = "order of testing", Ticks = [.. Enumerable.Range(0, ((int)last / step) + 1).Select(i => Math.Max(1, i * step)).Distinct().Select(i => new Tick(i, FigureNumbers.Count(i)))] },
                    Y = new() { Scale = log ? AxisScale.Logarithmic : AxisScale.Linear, Min = min, Max = max, Title = $"{property}, {unit}", Second = unit == "J" ? SecondUnit.FootPounds : null },
                    Items = items,
                },
            ],
            Data = new(["order", "name", $"{property} [{unit}]"], [.. readings.Select(r => (IReadOnlyList<string>)[FigureNumbers.Count(r.Order), r.Name, FigureLayout.Exact(r.Value)])]),
        };
    }
}
