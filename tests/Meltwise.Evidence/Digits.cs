using System.Globalization;
using Xunit;

namespace Meltwise.Evidence;

/// <summary>Agreement with a published or independently computed value, counted in decimal digits; a type, so it cannot be passed as a relative tolerance.</summary>
public readonly record struct Digits(double Count)
{
    /// <summary>Log relative error: digits that agree, 0 to 16. A zero reference takes the absolute error.</summary>
    public static Digits Between(double actual, double published)
    {
        if (actual.Equals(published)) return new(16);
        double error = Math.Abs(actual - published) / (published == 0 ? 1 : Math.Abs(published));
        return new(double.IsNaN(error) ? 0 : Math.Clamp(-Math.Log10(error), 0, 16));
    }

    /// <summary>Fails with both values and the digits reached when fewer than <paramref name="atLeast"/> digits agree.</summary>
    public static void Agree(double published, double? actual, Digits atLeast, string what)
    {
        Digits got = actual is { } a ? Between(a, published) : new(0);
        Assert.True(got.Count >= atLeast.Count, string.Create(CultureInfo.InvariantCulture,
            $"{what}: published {published:R}, computed {actual:R}; {got.Count:F1} digits agree, {atLeast.Count:F1} asked for."));
    }
}
