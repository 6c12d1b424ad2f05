using System.Globalization;
using System.Xml.Linq;
using Meltwise.Publishing.Figures;
using Xunit;

namespace Meltwise.Publishing.Tests.Figures;

public sealed class SecondUnitTests
{
    // NIST Special Publication 811 (2008), appendix B.8: foot pound-force to joule, 1.355 818; degree Fahrenheit, t/°C = (t/°F − 32)/1.8.
    private const double JoulesInAFootPound = 1.355818;

    [Fact]
    public void Foot_pounds_stand_where_NIST_SP_811_puts_them()
    {
        (XElement svg, Func<double, double> at) = Draw(SecondUnit.FootPounds, 30, 90);
        Assert.Equal(at(50 * JoulesInAFootPound), Baseline(svg, "50", "ft·lbf"), 0.02);
        Assert.Equal(at(40 * JoulesInAFootPound), Baseline(svg, "40", "ft·lbf"), 0.02);
    }

    [Fact]
    public void Fahrenheit_stands_where_NIST_SP_811_puts_it()
    {
        (XElement svg, Func<double, double> at) = Draw(SecondUnit.Fahrenheit, 900, 1250);
        Assert.Equal(at((2000 - 32) / 1.8), Baseline(svg, "2000", "°F"), 0.02);
    }

    private static (XElement Svg, Func<double, double> At) Draw(SecondUnit unit, double min, double max)
    {
        Figure figure = new()
        {
            Title = "x",
            Description = "x",
            Panels = [new() { Height = 200, X = new() { Min = 0, Max = 1 }, Y = new() { Min = min, Max = max, Title = "y", Second = unit }, Items = [] }],
        };
        XElement svg = XElement.Parse(FigureSvg.Write(figure));
        XElement panel = svg.Descendants("g").Single(g => g.Attribute("data-panel") is not null);
        double top = Parse(panel.Attribute("data-top")!), height = Parse(panel.Attribute("data-height")!);
        return (svg, value => top + (height * (max - value) / (max - min)));
    }

    // The second unit is the quiet ink, right of the plot; its text stands 4.5 px under its tick.
    private static double Baseline(XElement svg, string text, string unit)
    {
        Assert.Contains(svg.Descendants("text"), t => t.Value == unit);
        XElement tick = Assert.Single(svg.Descendants("text"), t => t.Value == text && t.Attribute("fill")!.Value == "var(--ink-3)");
        return Parse(tick.Attribute("y")!) - 4.5;
    }

    private static double Parse(XAttribute attribute) => double.Parse(attribute.Value, CultureInfo.InvariantCulture);
}
