using System.Globalization;

namespace Meltwise.Casework.Explaining;

/// <summary>An explanation as the paragraphs of a report: interpretation, each with its strength.</summary>
public static class ExplanationParagraphs
{
    /// <summary>The paragraphs.</summary>
    public static IReadOnlyList<string> Of(ExplanationDocument explanation)
    {
        StateIntervals difference = explanation.Difference;
        string level = string.Create(CultureInfo.InvariantCulture, $"{difference.HardnessHrc.Level:P0}");
        List<string> paragraphs =
        [
            $"{explanation.Text} Strength of this interpretation: {explanation.Strength}.",
            string.Create(CultureInfo.InvariantCulture, $"Computed for {explanation.Candidate.Heat} less {explanation.Reference.Heat}, {explanation.Treatment}: dissolved carbon {Signed(difference.CarbonInAustenite, "0.000")} wt%, dissolved chromium {Signed(difference.ChromiumInAustenite, "0.00")} wt%, carbide {Signed(difference.CarbideVolumeFraction, "0.0", 100)} vol%, martensite start {Signed(difference.MartensiteStartC, "0")} °C, hardness {Signed(difference.HardnessHrc, "0.0")} HRC ({level} ranges)."),
            "By element: " + string.Join(", ", explanation.Contributions.Where(c => Math.Abs(c.HardnessHrc.Estimate) >= 0.05)
                .Select(c => string.Create(CultureInfo.InvariantCulture, $"{c.Element} {c.HardnessHrc.Estimate:+0.0;−0.0} HRC")).DefaultIfEmpty("no element contributes 0.05 HRC or more")) + ".",
        ];
        if (explanation.Oxygen is { } oxygen)
            paragraphs.Add(string.Create(CultureInfo.InvariantCulture, $"Oxygen: {Words(oxygen.Reference)}; {Words(oxygen.Candidate)}. With two heats this is a hypothesis for a difference in toughness, not its cause."));
        paragraphs.Add($"Assumptions: {explanation.Notes[0]} {(explanation.Notes.FirstOrDefault(n => n.Contains("chain was off", StringComparison.Ordinal)) ?? "")}".TrimEnd());
        return paragraphs;
    }

    private static string Words(HeatOxygen heat) => string.Create(CultureInfo.InvariantCulture, $"{heat.Heat} {heat.Ppm:0} ppm, {heat.OxideVolumePercent:0.000} vol% oxide, rank {heat.Rank} of {heat.Peers} of its route");

    private static string Signed(ExplainedInterval interval, string format, double factor = 1) =>
        $"{(factor * interval.Estimate).ToString($"+{format};−{format};{format}", CultureInfo.InvariantCulture)} ({(factor * interval.Lower).ToString($"+{format};−{format};{format}", CultureInfo.InvariantCulture)} to {(factor * interval.Upper).ToString($"+{format};−{format};{format}", CultureInfo.InvariantCulture)})";
}
