using System.Xml.Linq;
using Meltwise.Publishing.Figures;
using Xunit;

namespace Meltwise.Publishing.Tests.Figures;

public sealed class FigureHtmlTests
{
    [Fact]
    public void A_figure_with_links_is_a_group_of_named_links_and_a_still_one_a_picture()
    {
        XElement linked = Parse(FigureHtml.Write(VerdictFigure.Build(InventedVerdict.Make(), c => $"/coupons/{c.Coupon}"), new(), "/figures/1"));
        XElement svg = Assert.Single(linked.Descendants("svg"));
        Assert.Equal("group", svg.Attribute("role")?.Value);
        Assert.All(svg.Descendants("a"), a => Assert.False(string.IsNullOrEmpty(a.Attribute("aria-label")?.Value)));
        XElement still = Parse(FigureHtml.Write(VerdictFigure.Build(InventedVerdict.Make()), new()));
        Assert.Equal("img", Assert.Single(still.Descendants("svg")).Attribute("role")?.Value);
    }

    [Fact]
    public void Every_coupon_is_in_the_table_too()
    {
        XElement html = Parse(FigureHtml.Write(VerdictFigure.Build(InventedVerdict.Make()), new(), "/figures/1"));
        Assert.Equal(24, html.Descendants("tbody").Single().Elements("tr").Count());
        // HTML Living Standard, figure element: figcaption is its first or last child.
        Assert.Equal("figcaption", html.Elements().Last().Name.LocalName);
        Assert.Equal(["svg", "png", "data"], html.Descendants("a").Attributes("data-copy").Select(a => a.Value));
    }

    private static XElement Parse(string html) => XElement.Parse(html.Replace("<br>", "<br/>", StringComparison.Ordinal));
}
