namespace Meltwise.Publishing.Figures;

/// <summary>Fraction of one phase over temperature.</summary>
/// <param name="Phase">Name: <c>M6C</c>.</param>
/// <param name="Points">Temperature in °C and fraction in percent.</param>
public sealed record PhaseCurve(string Phase, IReadOnlyList<Drawing.Place> Points);

/// <summary>Phase fractions of a steel over temperature, lines named in place, °C below and °F in a second row.</summary>
public static class PhaseFigure
{
    private static readonly LineRole[] s_lines = [LineRole.Heavy, LineRole.Dashed, LineRole.Dotted, LineRole.Thin, LineRole.Trend];

    /// <summary>Builds it.</summary>
    /// <param name="steel">The steel in words.</param>
    /// <param name="fraction">What the fraction is of: <c>vol%</c>, <c>wt%</c>, <c>mol%</c>.</param>
    /// <param name="curves">Phases to draw; leave the matrix out to see the carbides.</param>
    /// <param name="atCelsius">A temperature to mark, or null.</param>
    public static Figure Build(string steel, string fraction, IReadOnlyList<PhaseCurve> curves, double? atCelsius)
    {
        double[] temperatures = [.. curves.SelectMany(c => c.Points).Select(p => p.X)];
        double most = Math.Max(1e-3, curves.Max(c => c.Points.Max(p => p.Y)));
        List<PanelItem> items = [];
        if (atCelsius is { } at)
        {
            items.Add(new PanelItem.Line([new(at, 0), new(at, most * 1.06)], LineRole.Hot));
            items.Add(new PanelItem.NamedPlace(at, most * 1.06, [new($"{AxisTicks.Write(at, 0)} °C", TextRole.Hot)], new(6, 12), Leader: false));
        }
        for (int i = 0; i < curves.Count; i++)
        {
            PhaseCurve curve = curves[i];
            items.Add(new PanelItem.Line(curve.Points, s_lines[i % s_lines.Length], curve.Phase));
            Drawing.Place place = curve.Points.Where(p => (p.X - temperatures.Min()) / (temperatures.Max() - temperatures.Min()) is > 0.06 and < 0.9).DefaultIfEmpty(curve.Points[0]).MaxBy(p => p.Y);
            items.Add(new PanelItem.NamedPlace(place.X, place.Y, [new(curve.Phase, TextRole.Strong)]));
        }
        return new()
        {
            Title = $"Phases of {steel} over temperature",
            Description = $"Calculated equilibrium fraction of {string.Join(", ", curves.Select(c => c.Phase))} over temperature.",
            CaptionLead = "Calculated at equilibrium,",
            Caption = $"{fraction} of each phase; {steel}.",
            Panels =
            [
                new()
                {
                    Height = 300,
                    X = new() { Min = temperatures.Min(), Max = temperatures.Max(), Grid = false, Unit = "°C", Second = SecondUnit.Fahrenheit },
                    Y = new() { Min = 0, Max = most * 1.08, Title = $"fraction, {fraction}" },
                    Items = items,
                },
            ],
            Data = new(["phase", "temperature [°C]", $"fraction [{fraction}]"], [.. curves.SelectMany(c => c.Points.Select(p => (IReadOnlyList<string>)[c.Phase, FigureLayout.Exact(p.X), FigureLayout.Exact(p.Y)]))]),
        };
    }
}
