using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Report;
using Xunit;

namespace Meltwise.Publishing.Tests.Report;

public sealed class ReportHtmlTests
{
    [Fact]
    public void One_file_that_asks_nothing_of_the_network()
    {
        string html = ReportHtml.Write(ReportBuilder.Build(InventedReport.Make()));
        Assert.DoesNotContain("http://", html.Replace("http://www.w3.org", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.DoesNotContain("https://", html, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", html, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", html[html.IndexOf("<body>", StringComparison.Ordinal)..], StringComparison.Ordinal);
        Assert.Contains("data:font/woff2;base64,", html, StringComparison.Ordinal);
    }

    [Fact]
    public void What_people_typed_is_text_and_never_markup()
    {
        ReportInput made = InventedReport.Make();
        ReportInput hostile = made with { Enquiry = made.Enquiry with { Title = "<img src=x onerror=alert(1)>", PaidBy = "\"><script>alert(1)</script>", ConflictsOfInterest = "</dd><b>" }, Custody = [new("K17", Retained: "</td><i onclick=x>")] };
        string html = ReportHtml.Write(ReportBuilder.Build(hostile));
        Assert.DoesNotContain("<img", html, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", html, StringComparison.Ordinal);
        Assert.Contains("&lt;img src=x", html, StringComparison.Ordinal);
    }

    [Fact]
    public void A_number_never_parts_from_its_unit()
    {
        Assert.Equal("63.2\u00A0J at 62.7\u00A0HRC, 5\u00A0%, 23\u00A0°C, 7\u00A0×\u00A010", Rich.FromString("63.2 J at 62.7 HRC, 5 %, 23 °C, 7 × 10").PlainText);
        Assert.Equal("1.195\u00A0±\u00A00.016", Rich.FromString("1.195 ± 0.016").PlainText);
    }

    [Fact]
    public void Without_records_it_says_what_is_missing()
    {
        ReportInput made = InventedReport.Make();
        string html = ReportHtml.Write(ReportBuilder.Build(made with { Heats = [], Chemistry = [], Treatments = [], Trend = null, Explanation = [], Instruments = [] }));
        Assert.Contains("No chemistry was recorded for these heats.", html, StringComparison.Ordinal);
        Assert.Contains("No record of the heat treatment was given.", html, StringComparison.Ordinal);
        Assert.Contains("No explanation is offered", html, StringComparison.Ordinal);
    }
}
