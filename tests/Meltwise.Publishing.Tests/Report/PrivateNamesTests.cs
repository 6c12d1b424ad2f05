using System.Text;
using Meltwise.Publishing.Documents;
using Meltwise.Publishing.Report;
using Xunit;

namespace Meltwise.Publishing.Tests.Report;

public sealed class PrivateNamesTests
{
    private static PrivateNames Names(params (string Name, string Label)[] names) => new(names.ToDictionary(n => n.Name, n => n.Label));

    [Theory]
    [InlineData("The mean is of R over P; a pair that was compared the other way round is turned.", "The mean is of Source S over Source Q; a pair that was compared the other way round is turned.")]
    [InlineData("The heat is the random unit: 9 of R, 18 of P, 36 in all", "The heat is the random unit: 9 of Source S, 18 of Source Q, 36 in all")]
    [InlineData("R and P are interchangeable for impact energy", "Source S and Source Q are interchangeable for impact energy")]
    [InlineData("a small difference was detected: source R 8 % lower than source P, smaller", "a small difference was detected: source Source S 8 % lower than source Source Q, smaller")]
    [InlineData("R is 2.1 HRC harder than P.", "Source S is 2.1 HRC harder than Source Q.")]
    [InlineData("R − P", "Source S − Source Q")]
    public void Names_of_one_letter_are_replaced_where_a_name_stands(string text, string expected) =>
        Assert.Equal(expected, Names(("R", "Source S"), ("P", "Source Q")).InText(text));

    [Theory]
    [InlineData("C: 19.2 degrees of freedom. A verdict on these lots, question C is answered, 58.4 J, carbon C, orientation L, K = 273")]
    [InlineData("Question A, as tested: 12 coupons. A difference was detected.")]
    [InlineData("per HRC; P = 0.03, R² 0.9, Cr 4.1 wt%")]
    public void Letters_that_are_no_names_stay_in_sentences_of_the_program(string text) =>
        Assert.Equal(text, Names(("A", "x"), ("C", "x"), ("J", "x"), ("K", "x"), ("L", "x"), ("P", "x"), ("R", "x"), ("Cr", "x")).InText(text));

    [Theory]
    [InlineData("Is R as good as P?", "Is Source S as good as Source Q?")]
    [InlineData("bars of R, 30 J; A bar of A.", "bars of Source S, 30 J; A bar of Source A1.")]
    [InlineData("Jena, RP, R2 and r stay", "Jena, RP, R2 and r stay")]
    public void Names_of_one_letter_are_replaced_in_what_was_typed(string text, string expected) =>
        Assert.Equal(expected, Names(("R", "Source S"), ("P", "Source Q"), ("J", "Source J1"), ("A", "Source A1")).InTyped(text));

    [Theory]
    [InlineData("the cost of Ost, OST’s bars and Osten", "the cost of Source A, Source A’s bars and Osten")]
    [InlineData("K17-3, K17a, XK17 and K170", "Lot R-3, Lot Ra, XK17 and K170")]
    [InlineData("steel of Steel is steel", "steel of Source B is steel")]
    [InlineData("bars from O\u0308sthammer and \u00D6STHAMMER", "bars from Source C and Source C")]
    [InlineData("Forge\u00A0&  Sons; forge-hall and forge\u2011hall", "Source D; Source E and Source E")]
    public void Words_are_replaced_whole_in_any_spelling_and_never_inside_words(string text, string expected) =>
        Assert.Equal(expected, Names(("Ost", "Source A"), ("K17", "Lot R"), ("Steel", "Source B"), ("\u00D6sthammer", "Source C"), ("Forge & Sons", "Source D"), ("forge-hall", "Source E")).InTyped(text));

    [Fact]
    public void A_common_word_as_a_name_leaves_the_sentences_of_the_program_whole() =>
        Assert.Equal("For impact energy the steel of Source A over Source B is powder", Names(("Steel", "Source A"), ("Powder", "Source B")).InText("For impact energy the steel of Steel over Powder is powder".Replace("of Steel", "of Source A", StringComparison.Ordinal)));

    [Theory]
    [InlineData("R over P", true)]
    [InlineData("9 of R", true)]
    [InlineData("Source R over Source P", false)]
    [InlineData("the steel of \u00D6sthammer", true)]
    [InlineData("R² 0.9", false)]
    public void What_is_left_stops_the_file(string text, bool stops)
    {
        ReportDocument document = new() { Title = "t", Foot = "f", Blocks = [new Block.Paragraph(text)], PrivateNames = ["R", "P", "O\u0308sthammer"], PublicLabels = ["Source R", "Source P"] };
        if (stops)
            Assert.Throws<ReportFaultException>(() => ReportHtml.Write(document));
        else
            Assert.NotEmpty(ReportHtml.Write(document));
    }

    public static TheoryData<string, string, string, string> Sources => new()
    {
        { "R", "P", "H1", "H2" }, { "A", "B", "C", "D" }, { "Steel", "Powder", "L", "J" }, { "\u00D8", "Z\u0308", "K17", "M03" }, { "Ost", "West", "1", "22" }, { "Source B", "Source A", "X1", "X2" },
    };

    [Theory]
    [MemberData(nameof(Sources))]
    public void A_report_of_sources_with_hard_names_holds_none_of_them_and_keeps_its_numbers(string first, string second, string reference, string candidate)
    {
        ReportInput input = HardNames.Make(first, second, reference, candidate);
        string html = ReportHtml.Write(ReportBuilder.Build(input, anonymous: true));
        string body = System.Net.WebUtility.HtmlDecode(html[html.IndexOf("<body>", StringComparison.Ordinal)..]).Normalize(NormalizationForm.FormC);
        Assert.Contains("Lot C", body, StringComparison.Ordinal);
        Assert.Contains("second source over first source", body, StringComparison.Ordinal);
        Assert.DoesNotContain($"{second} over {first}", body, StringComparison.Ordinal);
        Assert.DoesNotContain($"of {first} over", body, StringComparison.Ordinal);
        foreach (string kept in (string[])["impact energy", "unnotched 7×10×55", "0.84 to 0.97", "wt%", "Question A"])
            Assert.Contains(kept, body.Replace('\u00A0', ' '), StringComparison.Ordinal);
        string full = ReportHtml.Write(ReportBuilder.Build(input));
        Assert.Contains($"{second} over {first}".Normalize(), System.Net.WebUtility.HtmlDecode(full).Normalize(), StringComparison.Ordinal);
    }
}
