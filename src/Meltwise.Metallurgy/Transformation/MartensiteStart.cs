using System.Globalization;
using Meltwise.Metallurgy.Composition;

namespace Meltwise.Metallurgy.Transformation;

/// <summary>Martensite start of an austenite by every named formula, side by side, with one central value and its error bar.</summary>
/// <remarks>
/// <para><b>Formula.</b> <see cref="MartensiteStartFormulas"/>. Central value: mean of the four formulas of
/// <see cref="MartensiteStartFormulas.ForToolSteel"/>.</para>
/// <para><b>Range.</b> No single formula was made for the austenite of a hardened tool steel (0.3 to 0.8 C with 3 to 13 Cr): the
/// error bar is ±40 °C (taken as two standard deviations) or half the spread of the four, whichever is larger. Differences between
/// two like austenites agree between formulas within about 20 %.</para>
/// <para><b>Outside.</b> Each formula is still evaluated, and its faults of range are listed beside its value.</para>
/// <para><b>Source.</b> The formulas' own; the central value and the bar are our choice.</para>
/// </remarks>
public static class MartensiteStart
{
    /// <summary>Half width of the error bar that no agreement between formulas can make smaller, °C.</summary>
    public const double LeastHalfWidthC = 40;

    /// <summary>Mean of the four tool-steel formulas, °C. Allocates nothing.</summary>
    public static double CentralC(AlloyContent austenite)
    {
        double sum = 0;
        for (int i = 0; i < MartensiteStartFormulas.ForToolSteel.Count; i++) sum += MartensiteStartFormulas.ForToolSteel[i].Celsius(austenite);
        return sum / MartensiteStartFormulas.ForToolSteel.Count;
    }

    /// <summary>All formulas on one austenite.</summary>
    /// <param name="austenite">Composition of the austenite at the hardening temperature, mass percent; not the composition of the steel.</param>
    public static MartensiteStartResult Of(AlloyContent austenite)
    {
        List<MartensiteStartEstimate> estimates = [.. MartensiteStartFormulas.All
            .Select(f => new MartensiteStartEstimate(f, f.Celsius(austenite), f.RangeFaults(austenite)))];
        double central = CentralC(austenite);
        double[] four = [.. MartensiteStartFormulas.ForToolSteel.Select(f => f.Celsius(austenite))];
        double half = Math.Max(LeastHalfWidthC, (four.Max() - four.Min()) / 2);

        List<string> notes =
        [
            string.Create(CultureInfo.InvariantCulture, $"Central value: mean of {string.Join("; ", MartensiteStartFormulas.ForToolSteel.Select(f => f.Name))}. No formula is calibrated for tool-steel austenite; the bar is ±{half:0} °C."),
            "Differences between two like steels are firmer than either value: the formulas agree on them within about 20 %.",
        ];
        int outside = estimates.Count(e => !e.InRange);
        if (outside > 0)
            notes.Add($"{outside} of {estimates.Count} formulas are outside their published range for this austenite; each says why.");
        return new(central, half, estimates, notes);
    }
}

/// <summary>One formula's answer.</summary>
/// <param name="Formula">The formula, with its source and range.</param>
/// <param name="Celsius">Martensite start, °C.</param>
/// <param name="RangeFaults">Where the austenite leaves the published range; empty inside it.</param>
public sealed record MartensiteStartEstimate(MartensiteStartFormula Formula, double Celsius, IReadOnlyList<string> RangeFaults)
{
    /// <summary>Whether the austenite lies inside the published range.</summary>
    public bool InRange => RangeFaults.Count == 0;
}

/// <summary>Martensite start by all formulas.</summary>
/// <param name="CentralC">Mean of the four tool-steel formulas, °C.</param>
/// <param name="HalfWidthC">Half width of the error bar, °C, about two standard deviations.</param>
/// <param name="Estimates">Every formula's answer.</param>
/// <param name="Notes">What a reader must know; never empty.</param>
public sealed record MartensiteStartResult(
    double CentralC, double HalfWidthC, IReadOnlyList<MartensiteStartEstimate> Estimates, IReadOnlyList<string> Notes);
