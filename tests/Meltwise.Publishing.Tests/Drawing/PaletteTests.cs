using System.Globalization;
using Meltwise.Publishing.Drawing;
using Xunit;

namespace Meltwise.Publishing.Tests.Drawing;

/// <summary>Contrast by WCAG 2.2 (W3C Recommendation, definition of contrast ratio and of relative luminance): 4.5 for text, 3 for marks and lines that carry meaning.</summary>
public sealed class PaletteTests
{
    public static TheoryData<string> Palettes => ["light", "dark", "print"];

    [Theory]
    [MemberData(nameof(Palettes))]
    public void Text_and_marks_can_be_told_from_every_ground(string name)
    {
        Palette palette = name switch { "light" => Palette.Light, "dark" => Palette.Dark, _ => Palette.Print };
        foreach (Ink text in (Ink[])[Ink.Main, Ink.Second, Ink.Third, Ink.Heat])
        {
            Assert.True(Contrast(palette[text], palette[Ink.Paper]) >= 4.5, $"{text} on paper");
            Assert.True(Contrast(palette[text], palette[Ink.Shade]) >= 4.5, $"{text} on shade");
        }
        foreach (Ink mark in (Ink[])[Ink.Rule, Ink.Past])
            Assert.True(Contrast(palette[mark], palette[Ink.Shade]) >= 3, $"{mark} on shade");
    }

    private static double Contrast(string a, string b)
    {
        (double high, double low) = (Math.Max(Luminance(a), Luminance(b)), Math.Min(Luminance(a), Luminance(b)));
        return (high + 0.05) / (low + 0.05);
    }

    private static double Luminance(string hex)
    {
        double Channel(int at)
        {
            double c = int.Parse(hex.AsSpan(at, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture) / 255.0;
            return c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4);
        }
        return (0.2126 * Channel(1)) + (0.7152 * Channel(3)) + (0.0722 * Channel(5));
    }
}
