using Meltwise.Metallurgy.Composition;
using Meltwise.Metallurgy.Explanation;

namespace Meltwise.Metallurgy.Tests.Explanation;

/// <summary>A made-up soak whose answers are straight lines of the composition, so that the Monte Carlo can be held against closed formulas.</summary>
internal sealed class StraightLineSoak : ISoakAssumption, ISoak
{
    public const double CarbonForCarbon = 0.35, CarbonForChromium = -0.05, ChromiumForChromium = 0.6;

    public string Words => "Made up: straight lines.";

    public ISoak Near(AlloyContent steel, double temperatureK) => this;

    public IReadOnlyList<string> WarningsFor(AlloyContent steel, double temperatureK) => [];

    public SoakedState Of(AlloyContent steel)
    {
        AlloyContent austenite = default;
        austenite.C = 0.55 + CarbonForCarbon * (steel.C - 1.5) + CarbonForChromium * (steel.Cr - 12);
        austenite.Cr = 6.5 + ChromiumForChromium * (steel.Cr - 12);
        austenite.Mo = 0.6;
        CarbideVolumes carbides = default;
        carbides[CarbideKind.M7C3] = 0.13 + 0.05 * (steel.C - 1.5);
        return new(austenite, carbides, 0);
    }
}
