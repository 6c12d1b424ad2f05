namespace Meltwise.Publishing.Figures;

/// <summary>A set of measured particle sizes.</summary>
/// <param name="Name">Lot or picture set.</param>
/// <param name="DiametersUm">Equivalent circle diameters, µm, above 0.</param>
/// <param name="Candidate">Drawn as the candidate.</param>
public sealed record SizeSet(string Name, IReadOnlyList<double> DiametersUm, bool Candidate = false);

/// <summary>Cumulative share of particles below a size, for one or two sets: steps through every particle, no bins to choose.</summary>
public static class SizeFigure
{
    /// <summary>Builds it.</summary>
    /// <param name="sets">One or more sets.</param>
    /// <param name="smallestUm">Smallest particle counted, µm; null when not stated.</param>
    /// <param name="what">What was measured: <c>carbides</c>.</param>
    public static Figure Build(IReadOnlyList<SizeSet> sets, double? smallestUm, string what = "carbides")
    {
        (double min, double max) = AxisLimits.Of(sets.SelectMany(s => s.DiametersUm), true, 0.03);
        List<PanelItem> items = [];
        for (int i = 0; i < sets.Count; i++)
        {
            SizeSet set = sets[i];
            double[] sorted = [.. set.DiametersUm.Where(d => d > 0 && double.IsFinite(d)).Order()];
            if (sorted.Length == 0)
                continue;
            items.Add(new PanelItem.Line(Steps(sorted), set.Candidate ? LineRole.Hot : i == 0 ? LineRole.Heavy : LineRole.Dashed, set.Name));
            double median = sorted[sorted.Length / 2], share = i == 0 ? 0.3 : 0.75;
            items.Add(new PanelItem.NamedPlace(sorted[(int)(share * (sorted.Length - 1))], share, [new(set.Name, set.Candidate ? TextRole.Hot : TextRole.Strong), new($"median {FigureNumbers.Value(median)} µm, {sorted.Length} particles")]));
        }
        return new()
        {
            Title = $"Size of {what}",
            Description = $"Cumulative size distribution of {what} for {string.Join(" and ", sets.Select(s => s.Name))}.",
            CaptionLead = $"Size of {what},",
            Caption = $"share of particles smaller than a diameter, by number, log scale{(smallestUm is { } s0 ? $"; smallest particle counted {FigureNumbers.Value(s0)} µm" : "")}. Equivalent circle diameters in the section, not true sizes.",
            Panels =
            [
                new()
                {
                    Height = 280,
                    X = new() { Scale = AxisScale.Logarithmic, Min = min, Max = max, Unit = "µm", Title = "diameter of the circle of equal area" },
                    Y = new() { Min = 0, Max = 1, Title = "smaller than this, %", Ticks = [.. new[] { 0, 25, 50, 75, 100 }.Select(p => new Tick(p / 100.0, FigureNumbers.Count(p)))] },
                    Items = items,
                },
            ],
            Data = new(["set", "diameter [µm]"], [.. sets.SelectMany(s => s.DiametersUm.Select(d => (IReadOnlyList<string>)[s.Name, FigureLayout.Exact(d)]))]),
        };
    }

    // At most 600 steps: beyond that steps are finer than a pixel.
    private static List<Drawing.Place> Steps(double[] sorted)
    {
        List<Drawing.Place> places = [new(sorted[0], 0)];
        int stride = Math.Max(1, sorted.Length / 600);
        for (int i = 0; i < sorted.Length; i += stride)
        {
            places.Add(new(sorted[i], places[^1].Y));
            places.Add(new(sorted[i], (i + 1.0) / sorted.Length));
        }
        places.Add(new(sorted[^1], 1));
        return places;
    }
}
