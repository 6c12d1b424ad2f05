using System.Globalization;
using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Report;
using Xunit;

namespace Meltwise.Publishing.Tests.Report;

/// <summary>Verdicts as the judging makes them of invented tables, in the report: temper ladders, several properties, lots that nobody read. Layout only, never a check of truth.</summary>
public sealed class JudgedVerdictsTests
{
    private static readonly double[] s_energies = [27.1, 30.4, 24.8, 33.0, 29.9, 35.6, 38.2, 34.4, 36.9];

    public static TheoryData<string> Cases => ["temper ladder", "lines that cross", "several properties", "one property refused", "candidate not read", "reference not read", "nothing read", "all readings equal"];

    [Theory]
    [MemberData(nameof(Cases))]
    public void The_report_is_written_and_holds_no_broken_number(string name)
    {
        ReportInput input = InventedReport.Make();
        ReportDocument document = ReportBuilder.Build(input with { Verdict = Judge(name), Trend = null });
        string html = ReportHtml.Write(document), body = html[html.IndexOf("<body>", StringComparison.Ordinal)..];
        foreach (string broken in new[] { "NaN", "Infinity", "∞" }) Assert.DoesNotContain(broken, body, StringComparison.Ordinal);
        Assert.NotEmpty(ReportPdf.Write(document));
    }

    [Fact]
    public void A_ladder_is_shown_level_by_level()
    {
        string html = Html("temper ladder");
        Assert.Contains("Temper ladder of the lots.", html, StringComparison.Ordinal);
        Assert.Contains("Levels of the temper ladder", html, StringComparison.Ordinal);
        Assert.DoesNotContain("the slope is corrected for it", html, StringComparison.Ordinal);
    }

    [Fact]
    public void Several_properties_stand_in_the_answer_the_rule_and_without_names_in_the_public_version()
    {
        string html = Html("several properties");
        Assert.Contains("judged by impact energy and wear loss", html, StringComparison.Ordinal);
        Assert.Contains("Must agree too", html, StringComparison.Ordinal);
        Assert.Contains("secondary", html, StringComparison.Ordinal);
        string hidden = ReportHtml.Write(ReportBuilder.Build(InventedReport.Make() with { Verdict = Judge("several properties"), Trend = null }, anonymous: true));
        foreach (string name in new[] { "K17", "M03" }) Assert.DoesNotContain(name, hidden[hidden.IndexOf("<body>", StringComparison.Ordinal)..], StringComparison.Ordinal);
    }

    private static string Html(string name) => ReportHtml.Write(ReportBuilder.Build(InventedReport.Make() with { Verdict = Judge(name), Trend = null }));

    private static Verdict Judge(string name)
    {
        OtherProperty[] wear = [new("wear loss", new Margin.Ratio(0.85, 1.18))], hardness = [new("hardness", new Margin.Absolute(1, "HRC"))];
        bool ladder = name is "temper ladder" or "lines that cross";
        ComparisonInput input = new()
        {
            Lots = new([.. Lot("K17", name), .. Lot("M03", name)], new HashSet<string>(ladder ? ["treatment"] : []), "coupons.csv"),
            Rule = new()
            {
                Property = "impact energy",
                Margin = new Margin.Ratio(0.8, 1.25),
                Estimand = ladder ? Estimand.EqualHardness : Estimand.AsTested,
                FurtherPrimaries = name == "several properties" ? wear : name == "one property refused" ? [new("bend strength", new Margin.Ratio(0.9, 1.1))] : null,
                Secondaries = name == "several properties" ? hardness : null,
            },
            ReferenceHeats = ["K17"],
            CandidateHeats = ["M03"],
        };
        return Comparison.Judge(input, TestContext.Current.CancellationToken);
    }

    private static IEnumerable<CouponRow> Lot(string heat, string name) => Enumerable.Range(0, 9).Select(i =>
    {
        bool candidate = heat == "M03", unread = name == "nothing read" || name == (candidate ? "candidate not read" : "reference not read");
        double steeper = name == "lines that cross" && candidate ? 0.3 * (i / 3 - 1) : 0, energy = name == "all readings equal" ? 40.1 : s_energies[i] * Math.Exp(steeper) * (candidate ? 1.03 : 1);
        return new CouponRow
        {
            Heat = heat,
            Coupon = (i + 1).ToString(CultureInfo.InvariantCulture),
            Treatment = name is "temper ladder" or "lines that cross" ? $"tempered at {180 + 40 * (i / 3)} °C" : null,
            Hardness = [CensoredValue.Of(62.4 - 1.4 * (i / 3) + 0.1 * (i % 3) - (candidate ? 0.4 : 0), "HRC")],
            Readings = unread ? new Dictionary<string, IReadOnlyList<CensoredValue>>()
                : new Dictionary<string, IReadOnlyList<CensoredValue>> { ["impact energy"] = [CensoredValue.Of(energy, "J")], ["wear loss"] = [CensoredValue.Of(18 + 0.3 * i, "mm³")] },
        };
    });
}
