using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Web.Heats;

/// <summary>The lines on which a heat's hot history is written down or corrected.</summary>
internal sealed class HotHistoryForm
{
    public string? Steps { get; set; }

    public string? Powder { get; set; }

    public string? Atmosphere { get; set; }

    public string? Cooling { get; set; }

    public string? Told { get; set; }

    public string? Why { get; set; }

    /// <summary>The form filled with what is recorded; empty when nothing is.</summary>
    public static HotHistoryForm Of(HotHistory? history) => history is null ? new() : new()
    {
        Steps = HotHistoryText.Write(history.Steps, "\n"),
        Powder = history.LargestPowderUm?.ToString("0.###", CultureInfo.InvariantCulture),
        Atmosphere = history.Atmosphere,
        Cooling = history.Cooling,
        Told = history.Told,
    };

    /// <summary>What was typed as a record, or what is wrong with it.</summary>
    /// <param name="heat">The heat.</param>
    public (HotHistory? History, string? Fault) Read(string heat)
    {
        (IReadOnlyList<HotStep> steps, string? fault) = HotHistoryText.Read(Steps);
        if (fault is not null)
        {
            return (null, fault);
        }

        double? powder = null;
        if (!string.IsNullOrWhiteSpace(Powder))
        {
            if (!double.TryParse(Powder.Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double um)
                || um is not (>= HotHistoryText.FinestPowderUm and <= HotHistoryText.CoarsestPowderUm))
            {
                return (null, string.Create(CultureInfo.InvariantCulture,
                    $"The powder's sieve is “{Powder}”; expected a number from {HotHistoryText.FinestPowderUm:0} to {HotHistoryText.CoarsestPowderUm:0} µm, or nothing when it is not powder."));
            }

            powder = um;
        }

        return (new(heat, steps, powder, Said(Atmosphere), Said(Cooling), Said(Told)), null);
    }

    private static string? Said(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}
