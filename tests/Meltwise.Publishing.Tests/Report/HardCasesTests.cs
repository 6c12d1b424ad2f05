using Meltwise.Casework.Judging;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Figures;
using Meltwise.Publishing.Report;
using Xunit;

namespace Meltwise.Publishing.Tests.Report;

/// <summary>Verdicts that have little to show still make a whole report.</summary>
public sealed class HardCasesTests
{
    public static TheoryData<string> Cases => ["no lots", "one coupon each", "all readings equal", "linear scale", "refused at equal hardness", "censored", "hardness margin"];

    [Theory]
    [MemberData(nameof(Cases))]
    public void The_report_is_written_and_holds_no_broken_number(string name)
    {
        ReportInput input = InventedReport.Make();
        ReportDocument document = ReportBuilder.Build(input with { Verdict = Make(name, input.Verdict), Trend = null });
        string html = ReportHtml.Write(document);
        string body = html[html.IndexOf("<body>", StringComparison.Ordinal)..];
        Assert.DoesNotContain("NaN", body, StringComparison.Ordinal);
        Assert.DoesNotContain("Infinity", body, StringComparison.Ordinal);
        Assert.DoesNotContain("∞", body, StringComparison.Ordinal);
        Assert.NotEmpty(ReportPdf.Write(document));
    }

    [Fact]
    public void A_difference_is_printed_with_its_sign_and_unit()
    {
        Figure figure = VerdictFigure.Build(Make("linear scale", InventedVerdict.Make()));
        string svg = FigureSvg.Write(figure);
        Assert.Contains("−1.10", svg, StringComparison.Ordinal);
        Assert.Contains("difference M03 − K17, HRC", svg, StringComparison.Ordinal);
        Assert.Contains("margin ±1.50", svg, StringComparison.Ordinal);
    }

    [Fact]
    public void Coupon_2_comes_before_coupon_11()
    {
        Verdict made = InventedVerdict.Make();
        Lot numbered = made.Lots[0] with { Coupons = [.. new[] { "11", "2", "1" }.Select(n => made.Lots[0].Coupons[0] with { Coupon = n, Order = null })] };
        string svg = FigureSvg.Write(ReadingsFigure.Build(made with { Lots = [numbered, made.Lots[1]], Suspects = [] })!);
        Assert.True(svg.IndexOf("data-name=\"K17 2\"", StringComparison.Ordinal) < svg.IndexOf("data-name=\"K17 11\"", StringComparison.Ordinal));
    }

    private static Verdict Make(string name, Verdict made)
    {
        Verdict none = made with
        {
            AsTested = null,
            EqualHardness = null,
            Sources = null,
            Variants = null,
            LeaveOneOut = null,
            Suspects = [],
            LeftOut = [],
            Finding = made.Finding with { Outcome = Outcome.NoVerdict, Answer = null, Reason = Reason.TooFew, Missing = "three coupons a lot", MayClaim = [], MayNotClaim = [] },
        };
        return name switch
        {
            "no lots" => none with { Lots = [] },
            "one coupon each" => none with { Lots = [.. made.Lots.Select(l => l with { N = 1, NCompared = 1, Sd = null, LogSd = null, Coupons = [l.Coupons[0]] })] },
            "all readings equal" => none with { Rule = made.Rule with { MarginLow = null, MarginHigh = null }, Lots = [.. made.Lots.Select(l => l with { Sd = 0, LogSd = 0, Mean = 60, GeometricMean = 60, Coupons = [.. l.Coupons.Select(c => c with { Value = 60 })] })] },
            "linear scale" => Linear(made),
            "refused at equal hardness" => made with { EqualHardness = new() { Refused = Reason.TooFewHeats, Needed = 8, Missing = "eight heats with hardness" }, Sources = new() { Refused = Reason.OneSource } },
            "censored" => made with { Lots = [made.Lots[0], made.Lots[1] with { Coupons = [.. made.Lots[1].Coupons.Select((c, i) => i < 3 ? c with { Bound = "above" } : c)] }] },
            _ => made with { Rule = made.Rule with { MarginKind = "hardness", MarginHrc = 1, MarginLow = null, MarginHigh = null } },
        };
    }

    private static Verdict Linear(Verdict made) => made with
    {
        Rule = made.Rule with { Property = "hardness", Unit = "HRC", Scale = "linear", MarginKind = "absolute", MarginAbs = 1.5, MarginLow = null, MarginHigh = null, HigherIsBetter = null },
        Lots = [.. made.Lots.Select((l, i) => l with { GeometricMean = null, LogSd = null, Mean = 63.8 - (1.1 * i), Sd = 0.2, Coupons = [.. l.Coupons.Select(c => c with { Value = c.Hardness!.Value })] })],
        AsTested = new() { Difference = new(-1.10, -1.27, -0.93, 0.95, "HRC"), DifferenceForMargin = new(-1.10, -1.24, -0.96, 0.90, "HRC"), Outcome = Outcome.EquivalentDetectable, Answer = Answer.Yes, DegreesOfFreedom = 22 },
        EqualHardness = null,
        Sources = null,
        LeftOut = [],
    };
}
