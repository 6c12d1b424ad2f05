namespace Meltwise.Publishing.Figures;

/// <summary>Odds of one outcome along the axis.</summary>
/// <param name="Outcome">Name in place: <c>equivalent</c>.</param>
/// <param name="Line">How it is drawn; lines must differ.</param>
/// <param name="Points">Horizontal value (true ratio or number of coupons) and probability, 0 to 1.</param>
public sealed record OddsCurve(string Outcome, LineRole Line, IReadOnlyList<Drawing.Place> Points);

/// <summary>What a plan can show: the odds of every outcome.</summary>
public static class OddsFigure
{
    /// <summary>Against the true ratio.</summary>
    /// <param name="curves">One line an outcome.</param>
    /// <param name="margin">The margin.</param>
    /// <param name="plan">The plan in words: <c>12 coupons a lot, one heat each</c>.</param>
    /// <param name="width">Drawn width, px.</param>
    public static Figure AgainstRatio(IReadOnlyList<OddsCurve> curves, Limits margin, string plan, double width = 820)
    {
        (double min, double max) = (curves.Min(c => c.Points.Min(p => p.X)), curves.Max(c => c.Points.Max(p => p.X)));
        Axis x = new() { Scale = AxisScale.Logarithmic, Min = min, Max = max, Grid = false, Ticks = AxisTicks.Ratio(min, max, margin.Low, margin.High), Title = "true ratio candidate / reference, log scale" };
        return Draw(curves, x, [new PanelItem.MarginShade(Along.X, margin.Low, margin.High, 1, "margin")], $"What the plan can show: {plan}", $"Chance of each outcome against the true ratio, simulated with the rule itself: {plan}.", "true ratio", width);
    }

    /// <summary>Against the true difference, for a property that is compared by difference.</summary>
    /// <param name="curves">One line an outcome.</param>
    /// <param name="margin">The margin.</param>
    /// <param name="unit">Unit of the property.</param>
    /// <param name="plan">The plan in words.</param>
    /// <param name="width">Drawn width, px.</param>
    public static Figure AgainstDifference(IReadOnlyList<OddsCurve> curves, Limits margin, string unit, string plan, double width = 820)
    {
        (double min, double max) = (curves.Min(c => c.Points.Min(p => p.X)), curves.Max(c => c.Points.Max(p => p.X)));
        Axis x = new() { Min = min, Max = max, Grid = false, Title = $"true difference candidate less reference, {unit}" };
        return Draw(curves, x, [new PanelItem.MarginShade(Along.X, margin.Low, margin.High, 0, "margin")], $"What the plan can show: {plan}", $"Chance of each outcome against the true difference, simulated with the rule itself: {plan}.", "true difference", width);
    }

    /// <summary>Against the number of coupons in a lot.</summary>
    /// <param name="curves">One line an outcome.</param>
    /// <param name="truth">What is true in words: <c>no difference</c>.</param>
    /// <param name="chosen">Number in the plan, or null.</param>
    /// <param name="wanted">Chance that is wanted, drawn as a thin line; or null.</param>
    /// <param name="counted">What is counted: <c>coupons a heat</c>.</param>
    /// <param name="width">Drawn width, px.</param>
    public static Figure AgainstCoupons(IReadOnlyList<OddsCurve> curves, string truth, int? chosen, double? wanted = null, string counted = "coupons a heat", double width = 820)
    {
        (double min, double max) = (curves.Min(c => c.Points.Min(p => p.X)), curves.Max(c => c.Points.Max(p => p.X)));
        List<PanelItem> ground = chosen is { } n ? [new PanelItem.Line([new(n, 0), new(n, 1)], LineRole.Hot, "plan")] : [];
        if (wanted is { } chance)
            ground.Add(new PanelItem.Line([new(min, chance), new(max, chance)], LineRole.Thin, "wanted"));
        Axis x = new() { Min = min - 0.3, Max = max + 0.3, Grid = false, Title = counted };
        return Draw(curves, x, ground, $"What more coupons would show, with {truth}", $"Chances against the number of coupons, simulated with the rule itself, with {truth}.", "coupons", width);
    }

    private static Figure Draw(IReadOnlyList<OddsCurve> curves, Axis x, IReadOnlyList<PanelItem> ground, string title, string caption, string heading, double width)
    {
        List<PanelItem> items = [.. ground];
        foreach (OddsCurve curve in curves)
        {
            items.Add(new PanelItem.Line(curve.Points, curve.Line, curve.Outcome));
            Drawing.Place peak = curve.Points.Where(p => x.Fraction(p.X) is > 0.02 and < 0.9).DefaultIfEmpty(curve.Points[0]).MaxBy(p => p.Y);
            items.Add(new PanelItem.NamedPlace(peak.X, Math.Min(peak.Y, 0.97), [new(curve.Outcome, curve.Line == LineRole.Hot ? TextRole.Hot : TextRole.Strong)]));
        }
        double[] along = [.. curves.SelectMany(c => c.Points).Select(p => p.X).Distinct().Order()];
        return new()
        {
            Title = title,
            Description = caption,
            CaptionLead = "Odds of each outcome.",
            Caption = caption,
            Width = width,
            Panels =
            [
                new()
                {
                    Height = 250,
                    X = x,
                    Y = new() { Min = 0, Max = 1.02, Title = "chance, %", Ticks = [.. new[] { 0, 25, 50, 75, 100 }.Select(p => new Tick(p / 100.0, FigureNumbers.Count(p)))] },
                    Items = items,
                },
            ],
            Data = new([heading, .. curves.Select(c => c.Outcome)], [.. along.Select(a => (IReadOnlyList<string>)[FigureLayout.Exact(a), .. curves.Select(c => c.Points.Where(p => p.X.Equals(a)).Select(p => FigureLayout.Exact(p.Y)).FirstOrDefault(""))])]),
        };
    }
}
