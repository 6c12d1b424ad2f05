using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Hardness;
using Meltwise.Metallurgy.Sources;
using Meltwise.Metallurgy.Transformation;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>Standard deviations of the chain's own errors, drawn once for both heats in each draw of the Monte Carlo.</summary>
/// <remarks>
/// <para><b>Values.</b> Half the error bars: of the parameter set (±0.05 wt% C, ±0.4 wt% Cr, ±1 vol% carbide), of the martensite start (±40 °C, and one
/// of the four formulas at random), of the carbide's share in hardness; rate of the austenite equation 10 %, slope of the martensite curve 15 % (our
/// assumptions).</para>
/// <para><b>Why common.</b> The models are wrong in the same way for two like steels; only what their difference makes of that error counts.</para>
/// </remarks>
public sealed record ChainErrorSpread
{
    /// <summary>Dissolved carbon, mass percent.</summary>
    public double DissolvedCarbon { get; init; } = ModelErrorBars.ToolSteelAustenite.CarbonMassPercent / 2;

    /// <summary>Dissolved chromium, mass percent.</summary>
    public double DissolvedChromium { get; init; } = ModelErrorBars.ToolSteelAustenite.ChromiumMassPercent / 2;

    /// <summary>Carbide volume fraction.</summary>
    public double CarbideVolumeFraction { get; init; } = ModelErrorBars.ToolSteelAustenite.CarbideVolumePercent / 200;

    /// <summary>Martensite start, °C.</summary>
    public double MartensiteStartC { get; init; } = MartensiteStart.LeastHalfWidthC / 2;

    /// <summary>Rate of the austenite equation, per °C.</summary>
    public double MartensiteRatePerC { get; init; } = 0.1 * KoistinenMarburger.RatePerC;

    /// <summary>Hardness that carbide adds, HRC per volume percent.</summary>
    public double CarbideHrcPerVolumePercent { get; init; } = QuenchedHardness.CarbideHrcPerVolumePercentSd;

    /// <summary>Slope of the martensite curve, HRC per mass percent.</summary>
    public double MartensiteCurveTilt { get; init; } = 3;

    /// <summary>The default spread.</summary>
    public static ChainErrorSpread Published { get; } = new();

    /// <summary>No model error at all: only the chemistry varies.</summary>
    public static ChainErrorSpread Nothing { get; } = new()
    {
        DissolvedCarbon = 0,
        DissolvedChromium = 0,
        CarbideVolumeFraction = 0,
        MartensiteStartC = 0,
        MartensiteRatePerC = 0,
        CarbideHrcPerVolumePercent = 0,
        MartensiteCurveTilt = 0,
    };

    /// <summary>Sources of the spread.</summary>
    public static IReadOnlyList<Source> Sources { get; } =
    [
        new("Error bars of the parameter set against published facts: ±0.05 wt% C, ±0.4 wt% Cr, ±1 vol%", SourceStatus.Assumption),
        new("10 % of the Koistinen-Marburger rate, 15 % of the slope of the martensite curve", SourceStatus.Assumption),
    ];

    /// <summary>One set of errors.</summary>
    internal ChainErrors Draw(ref DrawStream stream)
    {
        int formula = (int)(stream.NextUniform() * MartensiteStartFormulas.ForToolSteel.Count);
        return new(
            DissolvedCarbon * stream.NextNormal(), DissolvedChromium * stream.NextNormal(), CarbideVolumeFraction * stream.NextNormal(),
            MartensiteStartC == 0 ? null : formula, MartensiteStartC * stream.NextNormal(),
            KoistinenMarburger.RatePerC + MartensiteRatePerC * stream.NextNormal(),
            QuenchedHardness.CarbideHrcPerVolumePercent + CarbideHrcPerVolumePercent * stream.NextNormal(), MartensiteCurveTilt * stream.NextNormal());
    }
}
