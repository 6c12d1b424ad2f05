using Meltwise.Evidence;
using Meltwise.Metallurgy.Hardness;
using Meltwise.Metallurgy.Sources;
using Meltwise.Metallurgy.Transformation;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Hardness;

public sealed class QuenchedHardnessTests
{
    [Fact] // By hand: 0.6 % C is 62 HRC = 746 HV; 0.8 x 746 + 0.2 x 250 = 646.8 HV; 57 + (646.8 - 633) / 20 = 57.69 HRC; 10 vol% carbide adds 1.3.
    public void Mixture_worked_by_hand()
    {
        QuenchedHardnessResult result = QuenchedHardness.Of(0.6, 0.2, 0.10);
        Digits.Agree(57.69 + 1.3, result.Hrc, new(12), "hardness of the mixture");
        Assert.Equal(62, result.MartensiteHrc, 1e-12);
        Assert.Equal(1.3, result.CarbideHrc, 1e-12);
        Digits.Agree(result.Hrc, QuenchedHardness.HrcOrNaN(0.6, 0.2, 0.10), new(15), "quick form");
        Assert.NotEmpty(result.Sources);
    }

    // Trade fact, from memory: D2-type as-quenched hardness peaks at 62 to 65 HRC near 1010 to 1040 °C, then falls through austenite.
    [Fact]
    public void More_dissolved_carbon_first_hardens_then_softens_through_austenite()
    {
        double Hrc(double carbon)
        {
            double ms = MartensiteStart.CentralC(new() { C = carbon, Cr = 6.3, Mo = 0.57, V = 0.23, Mn = 0.36, Si = 0.34 });
            return QuenchedHardness.HrcOrNaN(carbon, KoistinenMarburger.AusteniteFraction(ms, 20), 0.13);
        }
        Assert.InRange(Hrc(0.56), 60, 65);
        Assert.True(Hrc(0.55) > Hrc(0.30));
        Assert.True(Hrc(0.95) < Hrc(0.55));
    }

    [Fact]
    public void Carbon_outside_the_curve_is_refused_and_the_quick_form_gives_no_number()
    {
        Assert.Throws<OutsideModelRangeException>(() => QuenchedHardness.Of(0.02, 0, 0));
        Assert.True(double.IsNaN(QuenchedHardness.HrcOrNaN(0.02, 0, 0)));
    }
}
