using Meltwise.Evidence;
using Meltwise.Metallurgy.Tempering;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Tempering;

public sealed class TemperCurveTests
{
    private static readonly double[] s_celsius = [500, 510, 520, 530, 540, 550, 560];

    // Made-up curve, exact on a parabola with its top at P = 16300: the prior is weak beside seven cases, so the parabola comes back within 0.3 HRC.
    [Fact]
    public void A_parabola_comes_back_with_its_peak()
    {
        TemperCurve curve = new([.. s_celsius.Select(c => Case(c, 62 - 3 * Math.Pow((P(c) - 16300) / 1000, 2)))]);
        foreach (double c in s_celsius)
            Assert.Equal(62 - 3 * Math.Pow((P(c) - 16300) / 1000, 2), curve.Predict(Twice(c), 0.95).Hrc, 0.3);
        Assert.True(curve.ScatterHrc < 0.8);
        Assert.Equal(7, curve.Residuals.Count);
    }

    [Fact]
    public void Beyond_the_cases_the_interval_widens_and_it_says_so()
    {
        TemperCurve curve = new([Case(520, 61.8), Case(530, 61.4), Case(540, 60.7), Case(550, 59.9)]);
        CorrectedHardness inside = curve.Predict(Twice(535), 0.95), beyond = curve.Predict(Twice(600), 0.95);
        Assert.True(beyond.UpperHrc - beyond.LowerHrc > 1.5 * (inside.UpperHrc - inside.LowerHrc));
        Assert.Contains(beyond.Notes, n => n.Contains("beyond the past cases", StringComparison.Ordinal));
        Assert.Single(inside.Notes);
    }

    [Fact] // Equal P, equal prediction: twice 2 h is 4 h.
    public void Only_the_parameter_counts()
    {
        TemperCurve curve = new([Case(520, 61.8), Case(530, 61.4), Case(540, 60.7)]);
        Digits.Agree(curve.Predict([new(535, 4)], 0.95).Hrc, curve.Predict(Twice(535), 0.95).Hrc, new(10), "hardness");
    }

    [Fact]
    public void Low_high_and_trough_are_never_on_one_curve()
    {
        Assert.Contains("not on one curve", Assert.Throws<ArgumentException>(() => new TemperCurve([Case(200, 61), Case(520, 61), Case(530, 61)])).Message, StringComparison.Ordinal);
        Assert.Contains("not on a temper curve", Assert.Throws<ArgumentException>(() => new TemperCurve([Case(520, 61), Case(350, 57), Case(530, 61)])).Message, StringComparison.Ordinal);
        Assert.Contains("3 cases or more", Assert.Throws<ArgumentException>(() => new TemperCurve([Case(520, 61)])).Message, StringComparison.Ordinal);
        TemperCurve high = new([Case(520, 61.8), Case(530, 61.4), Case(540, 60.7)]);
        Assert.Contains("not on one curve", Assert.Throws<ArgumentException>(() => high.Predict(Twice(200), 0.95)).Message, StringComparison.Ordinal);
    }

    private static TemperedCase Case(double celsius, double hrc) => new(FormattableString.Invariant($"{celsius} °C"), Twice(celsius), hrc);

    private static Temper[] Twice(double celsius) => [new(celsius, 2), new(celsius, 2)];

    private static double P(double celsius) => TemperingParameter.Of(Twice(celsius)).Parameter;
}
