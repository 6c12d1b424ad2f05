using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Fonts;
using SkiaSharp;
using Xunit;

namespace Meltwise.Publishing.Tests.Fonts;

public sealed class FontFileTests
{
    private const string Signs = "0123456789µμ²³×−±°·–—“”‘’≤≥≈√→←½αβθλτσΔν…§†₀₂";

    [Fact]
    public void Every_print_face_has_the_signs_of_the_trade()
    {
        foreach (TypeStyle style in Styles())
        {
            using SKFont font = new(TypeMeasure.Typeface(style), 10);
            foreach (char sign in Signs)
                Assert.True(font.GetGlyph(sign) != 0, $"{FontFile.For(style)} lacks {sign}");
        }
    }

    [Fact]
    public void Figures_are_lining_and_tabular_so_that_M03_never_reads_Mo3()
    {
        foreach (TypeStyle style in Styles())
        {
            Assert.Single("0123456789".Select(d => TypeMeasure.Width(d.ToString(), style)).Distinct());
            using SKFont font = new(TypeMeasure.Typeface(style), 1000);
            font.GetGlyphWidths([font.GetGlyph('0'), font.GetGlyph('x')], out SKRect[] bounds);
            Assert.True(bounds[0].Height > 1.2 * bounds[1].Height, $"the 0 of {FontFile.For(style)} is no taller than its x");
        }
    }

    [Fact]
    public void The_licences_travel_with_the_fonts() =>
        Assert.All(FontFile.Licences, l => Assert.Contains("SIL OPEN FONT LICENSE Version 1.1", System.Text.Encoding.UTF8.GetString(FontFile.Read(l)), StringComparison.Ordinal));

    private static IEnumerable<TypeStyle> Styles()
    {
        foreach (Face face in Enum.GetValues<Face>())
        {
            foreach (int weight in (int[])[400, 500, 600, 650])
            {
                yield return new(face, weight, false, 10, Ink.Main);
                yield return new(face, weight, true, 10, Ink.Main);
            }
        }
    }
}
