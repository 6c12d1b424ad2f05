using System.Globalization;
using System.Xml.Linq;
using Meltwise.Casework.Judging;
using Meltwise.Publishing.Figures;
using Xunit;

namespace Meltwise.Publishing.Tests.Figures;

public sealed class FigureSvgTests
{
    [Fact]
    public void Every_coupon_is_drawn_named_and_at_its_logarithm()
    {
        Verdict verdict = InventedVerdict.Make();
        XElement svg = XElement.Parse(FigureSvg.Write(VerdictFigure.Build(verdict)));
        XElement panel = svg.Descendants("g").First(g => g.Attribute("data-panel")?.Value == "0");
        double left = Number(panel, "data-left"), width = Number(panel, "data-width"), min = Number(panel, "data-x-min"), max = Number(panel, "data-x-max");
        foreach (CouponPoint coupon in verdict.Lots.SelectMany(l => l.Coupons))
        {
            XElement mark = Assert.Single(svg.Descendants(), e => e.Attribute("data-name")?.Value == $"{coupon.Heat} {coupon.Coupon}");
            double expected = left + (width * (Math.Log10(coupon.Value) - Math.Log10(min)) / (Math.Log10(max) - Math.Log10(min)));
            // Attributes are written with two decimals.
            Assert.Equal(expected, Number(mark, "data-cx"), 0.0051);
        }
    }

    [Fact]
    public void The_two_panels_of_the_verdict_share_one_margin()
    {
        XElement svg = XElement.Parse(FigureSvg.Write(VerdictFigure.Build(InventedVerdict.Make())));
        XElement[] panels = [.. svg.Descendants("g").Where(g => g.Attribute("data-panel") is not null)];
        double reference = InventedVerdict.Make().Lots[0].GeometricMean!.Value;
        Assert.Equal(2, panels.Length);
        Assert.Equal(Number(panels[1], "data-x-min") * reference, Number(panels[0], "data-x-min"), 1e-9);
        Assert.Equal(Number(panels[1], "data-x-max") * reference, Number(panels[0], "data-x-max"), 1e-9);
        Assert.Equal(Number(panels[0], "data-left"), Number(panels[1], "data-left"));
        Assert.Equal(Number(panels[0], "data-width"), Number(panels[1], "data-width"));
    }

    [Fact]
    public void Names_cannot_break_out_of_the_drawing()
    {
        const string Hostile = "\"><script>alert(1)</script>&\u0001";
        Figure figure = OrderFigure.Build("impact energy", "J", [new(1, 50, MarkShape.Sealed, Hostile, Link: "javascript:alert(1)"), new(2, 60, MarkShape.Sealed, Hostile, Link: "//elsewhere"), new(3, 61, MarkShape.Sealed, "plain", Link: "/coupons/1")], null, true);
        string svg = FigureSvg.Write(figure);
        XElement parsed = XElement.Parse(svg);
        Assert.Empty(parsed.Descendants("script"));
        Assert.Equal("/coupons/1", Assert.Single(parsed.Descendants("a")).Attribute("href")?.Value);
        Assert.Equal(2, parsed.Descendants("g").Count(g => g.Attribute("data-name")?.Value == "\"><script>alert(1)</script>&"));
    }

    [Theory]
    [InlineData("heats/K17", true)]
    [InlineData("heats/K%3A17/coupons/2", true)]
    [InlineData("#readings", true)]
    [InlineData("/own/heats/K17", true)]
    [InlineData("javascript:alert(1)", false)]
    [InlineData("java\tscript:alert(1)", false)]
    [InlineData("https://elsewhere", false)]
    [InlineData("//elsewhere", false)]
    [InlineData("/\\elsewhere", false)]
    [InlineData("", false)]
    public void A_link_leads_to_this_server_or_nowhere(string link, bool kept)
    {
        Figure figure = OrderFigure.Build("impact energy", "J", [new(1, 50, MarkShape.Sealed, "coupon 1", Link: link)], null, true);
        Assert.Equal(kept ? [link] : [], XElement.Parse(FigureSvg.Write(figure)).Descendants("a").Select(a => a.Attribute("href")!.Value));
    }

    [Fact]
    public void A_page_uses_the_pages_colours_and_a_file_brings_its_own()
    {
        Figure figure = FirmnessFigure.Build(InventedVerdict.Make())!;
        string page = FigureSvg.Write(figure), file = FigureSvg.Write(figure, FigureSvgOptions.AsFile);
        Assert.Contains("var(--ink)", page, StringComparison.Ordinal);
        Assert.DoesNotContain("#16202a", page, StringComparison.Ordinal);
        Assert.DoesNotContain("var(", file, StringComparison.Ordinal);
        Assert.Contains("@font-face", file, StringComparison.Ordinal);
        Assert.Equal("svg", XElement.Parse(file).Name.LocalName);
    }

    [Theory]
    [InlineData(Outcome.NoVerdict)]
    [InlineData(Outcome.Inconclusive)]
    [InlineData(Outcome.Better)]
    public void A_verdict_without_numbers_still_shows_its_coupons(Outcome outcome)
    {
        Verdict made = InventedVerdict.Make();
        Verdict bare = made with
        {
            Rule = made.Rule with { MarginLow = null, MarginHigh = null, MarginHrc = 1 },
            AsTested = null,
            EqualHardness = null,
            Sources = null,
            Variants = null,
            Finding = made.Finding with { Outcome = outcome },
        };
        string svg = FigureSvg.Write(VerdictFigure.Build(bare));
        Assert.DoesNotContain("NaN", svg, StringComparison.Ordinal);
        Assert.DoesNotContain("Infinity", svg, StringComparison.Ordinal);
        Assert.Contains("K17 D9K", svg, StringComparison.Ordinal);
    }

    [Fact]
    public void A_zoom_moves_the_axis_and_leaves_out_what_is_outside()
    {
        Figure figure = VerdictFigure.Build(InventedVerdict.Make());
        string svg = FigureSvg.Write(figure, new() { Views = new Dictionary<int, AxisView> { [0] = new(60, 65, 0, 2) } });
        Assert.Contains("data-x-min=\"60\"", svg, StringComparison.Ordinal);
        Assert.Contains("K17 V7D", svg, StringComparison.Ordinal);
        Assert.DoesNotContain("K17 X3H", svg, StringComparison.Ordinal);
    }

    private static double Number(XElement element, string name) => double.Parse(element.Attribute(name)!.Value, CultureInfo.InvariantCulture);
}
