using Meltwise.Domain;
using Meltwise.Publishing.Figures;
using Xunit;

namespace Meltwise.Publishing.Tests.Figures;

/// <summary>The trace of a furnace load as a figure. The trace is invented; it checks behaviour.</summary>
public sealed class TraceFigureTests
{
    private static FurnaceTrace Trace(IReadOnlyList<double> minutes, IReadOnlyList<double> celsius) =>
        new() { Name = "T-1", Load = "26-07/a", Step = "austenitize", Channel = "load [°C]", SetC = 1130, ToleranceC = 10, Minutes = minutes, TemperatureC = celsius, Sha256 = "" };

    [Fact]
    public void The_line_stands_over_set_value_and_tolerance_with_the_soak_between_two_lines()
    {
        Figure figure = TraceFigure.Build(Trace([0, 20, 40, 50], [930, 1130, 1130, 630]));
        PanelItem.Band band = Assert.Single(figure.Panels[0].Items.OfType<PanelItem.Band>());
        Assert.All(band.Points, p => Assert.Equal((1120, 1140), (p.Low, p.High)));
        Assert.Equal([19, 40.2], figure.Panels[0].Items.OfType<PanelItem.Line>().Where(l => l.Role == LineRole.Dotted).Select(l => Math.Round(l.Points[0].X, 6)));
        Assert.Equal(4, figure.Panels[0].Items.OfType<PanelItem.Line>().Single(l => l.Role == LineRole.Heavy).Points.Count);
        Assert.Contains("21.2 min at temperature", figure.Caption, StringComparison.Ordinal);
        Assert.Equal(["20", "1130"], figure.Data.Rows[1]);
    }

    [Fact]
    public void A_long_trace_keeps_its_peaks_and_all_its_data()
    {
        double[] minutes = [.. Enumerable.Range(0, 40_000).Select(i => i / 60.0)], celsius = [.. minutes.Select((_, i) => i == 23_456 ? 1151.5 : 1130.0)];
        Figure figure = TraceFigure.Build(Trace(minutes, celsius));
        PanelItem.Line line = figure.Panels[0].Items.OfType<PanelItem.Line>().Single(l => l.Role == LineRole.Heavy);
        Assert.InRange(line.Points.Count, 100, 1300);
        Assert.Contains(line.Points, p => p.Y == 1151.5);
        Assert.Equal(40_000, figure.Data.Rows.Count);
    }

    [Fact]
    public void What_never_came_to_temperature_has_no_soak_lines() =>
        Assert.DoesNotContain(TraceFigure.Build(Trace([0, 10], [20, 500])).Panels[0].Items.OfType<PanelItem.Line>(), l => l.Role == LineRole.Dotted);
}
