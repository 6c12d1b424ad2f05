using Meltwise.Evidence;
using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Explanation;
using Xunit;

namespace Meltwise.Metallurgy.Tests.Explanation;

public sealed class HardnessChainTests
{
    // Carbon steel austenite of 0.6 % C with 10 vol% carbide, by hand. Martensite start: Andrews and Kung-Rayment 285.2, V-W formula 340,
    // Barbier 545 - 601.2 (1 - e^-0.5208); quenched to 20 °C.
    private static readonly double s_ms = (2 * 285.2 + 340 + (545 - 601.2 * (1 - Math.Exp(-0.5208)))) / 4;

    private static SoakedState Soaked()
    {
        CarbideVolumes carbides = default;
        carbides[CarbideKind.M3C] = 0.10;
        return new(new() { C = 0.6 }, carbides, 0);
    }

    [Fact]
    public void Each_step_by_hand()
    {
        ChainState state = new HardnessChain(new(800, [20], [])).Of(Soaked(), ChainErrors.None);
        double f = Math.Exp(-0.011 * (s_ms - 20));
        Digits.Agree(s_ms, state.MartensiteStartC, new(12), "martensite start");
        Digits.Agree(0.9 * f, state.RetainedAustenite, new(12), "retained austenite of the whole");
        double matrixHv = (1 - f) * 746 + f * 250; // 62 HRC is 746 HV; the mixture lies between 61 HRC (720) and 62 HRC (746)
        Assert.InRange(matrixHv, 720, 746);
        Digits.Agree(61 + (matrixHv - 720) / 26 + 1.3, state.HardnessHrc, new(12), "hardness");
    }

    [Fact]
    public void Model_errors_move_what_they_should()
    {
        HardnessChain chain = new(new(800, [20], []));
        ChainState central = chain.Of(Soaked(), ChainErrors.None);
        Digits.Agree(central.HardnessHrc + 0.3, chain.Of(Soaked(), ChainErrors.None with { MartensiteCurveTilt = 3 }).HardnessHrc, new(12), "tilt of 3 HRC at 0.1 wt% above 0.5");
        Digits.Agree(central.HardnessHrc + 0.5, chain.Of(Soaked(), ChainErrors.None with { CarbideHrcPerVolumePercent = 0.18 }).HardnessHrc, new(12), "0.05 HRC for each of 10 vol%");
        Digits.Agree(central.MartensiteStartC - 10, chain.Of(Soaked(), ChainErrors.None with { MartensiteStartC = -10 }).MartensiteStartC, new(12), "offset of the martensite start");
        Assert.Equal(0.65, chain.Of(Soaked(), ChainErrors.None with { DissolvedCarbon = 0.05 }).Austenite.C, 1e-12);
        Assert.Equal(285.2, chain.Of(Soaked(), ChainErrors.None with { MartensiteStartFormula = 0 }).MartensiteStartC, 1e-9);
        Assert.True(chain.Of(Soaked(), ChainErrors.None with { MartensiteRatePerC = 0.009 }).RetainedAustenite > central.RetainedAustenite);
        Assert.True(chain.Of(Soaked(), ChainErrors.None with { CarbideVolumeFraction = 0.02 }).HardnessHrc > central.HardnessHrc);
    }

    [Fact]
    public void A_colder_quench_leaves_less_austenite_and_a_harder_steel()
    {
        ChainState room = new HardnessChain(new(800, [20], [])).Of(Soaked(), ChainErrors.None), cold = new HardnessChain(new(800, [20, -80], [])).Of(Soaked(), ChainErrors.None);
        Assert.True(cold.RetainedAustenite < room.RetainedAustenite && cold.HardnessHrc > room.HardnessHrc);
    }
}
