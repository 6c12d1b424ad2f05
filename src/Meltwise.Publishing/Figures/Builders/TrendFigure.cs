using Meltwise.Casework.Judging;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Publishing.Figures;

/// <summary>A group of the history on the trend.</summary>
/// <param name="Name">Heat, and treatment where it has several.</param>
/// <param name="Hardness">Mean hardness, HRC.</param>
/// <param name="Value">Mean of the property.</param>
/// <param name="Coupons">Number of coupons.</param>
/// <param name="InTrend">Whether the trend is drawn through it.</param>
/// <param name="Link">Where a click leads.</param>
/// <param name="Note">More to say of it.</param>
public sealed record TrendGroup(string Name, double Hardness, double Value, int Coupons, bool InTrend = true, string? Link = null, string? Note = null);

/// <summary>A lot laid over the trend.</summary>
/// <param name="Name">Heat.</param>
/// <param name="Hardness">Mean hardness, HRC.</param>
/// <param name="Value">Mean of the property.</param>
/// <param name="Candidate">Candidate or reference.</param>
/// <param name="Low">Lower limit of its mean; null for none.</param>
/// <param name="High">Upper limit.</param>
/// <param name="Link">Where a click leads.</param>
public sealed record TrendLot(string Name, double Hardness, double Value, bool Candidate, double? Low = null, double? High = null, string? Link = null);

/// <summary>What the trend figure shows.</summary>
public sealed record TrendInput
{
    /// <summary>Property.</summary>
    public required string Property { get; init; }

    /// <summary>Unit.</summary>
    public required string Unit { get; init; }

    /// <summary>Whether the property is compared on logarithms.</summary>
    public required bool Log { get; init; }

    /// <summary>Groups of the history.</summary>
    public required IReadOnlyList<TrendGroup> Groups { get; init; }

    /// <summary>The lots on top.</summary>
    public IReadOnlyList<TrendLot> Lots { get; init; } = [];

    /// <summary>The trend; null where none could be drawn.</summary>
    public TrendLine? Trend { get; init; }

    /// <summary>Hardness that the trend holds for, HRC.</summary>
    public Limits? Range { get; init; }

    /// <summary>What kind of coupon, for the caption.</summary>
    public string Condition { get; init; } = "";

    /// <summary>Drawn width, px.</summary>
    public double Width { get; init; } = 820;

    /// <summary>Drawn height of the plot, px.</summary>
    public double Height { get; init; } = 400;
}

/// <summary>The property against hardness: every group tested before, the trend with the bands of trend and next groups, the lots on top and not in it.</summary>
/// <remarks>Bands at hardness H: level + slope·(H − centre), or the curve of a bent trend, ± t(0.975, ν)·√V with V = V(level) + (H − centre)²·SE²(slope) (with the bend's own part); for the mean of the next group of coupons the heat-to-heat variance,
/// heat × treatment and the scatter of as many coupons as a usual group has are added, so that the band is held against the marks.</remarks>
public static class TrendFigure
{
    private const int Steps = 60;

    /// <summary>Builds it.</summary>
    public static Figure Build(TrendInput input)
    {
        List<PanelItem> items = [];
        Limits range = input.Range ?? RangeOf(input);
        if (input.Trend is { } trend)
            items.AddRange(Bands(input, trend, range));
        items.AddRange(input.Groups.Select(g => Group(g, input)));
        items.AddRange(input.Lots.SelectMany(l => Lot(l, input)));
        (double xMin, double xMax) = AxisLimits.Of([.. input.Groups.Select(g => g.Hardness), .. input.Lots.Select(l => l.Hardness)], false, 0.05);
        (double yMin, double yMax) = AxisLimits.Of([.. input.Groups.Select(g => g.Value), .. input.Lots.Select(l => l.Value), .. items.OfType<PanelItem.Band>().SelectMany(b => b.Points).SelectMany(p => new[] { p.Low, p.High })], input.Log);
        string property = char.ToUpperInvariant(input.Property[0]) + input.Property[1..];
        int inTrend = input.Groups.Count(g => g.InTrend);
        return new()
        {
            Title = $"{property} against hardness",
            Description = $"{property} against hardness for {input.Groups.Count} groups tested before{(input.Trend is null ? "" : ", with the trend and its bands")}; {string.Join(" and ", input.Lots.Select(l => l.Name))} on top.",
            CaptionLead = $"{property} against hardness,",
            Caption = $"{input.Condition}{(input.Condition.Length > 0 ? "; " : "")}{(input.Log ? "log scale" : "linear scale")}. {Say(input, inTrend)}",
            Width = input.Width,
            Key = Key(input),
            Panels =
            [
                new()
                {
                    Height = input.Height,
                    X = new() { Min = xMin, Max = xMax, Title = "hardness, HRC (mean of each group)", Grid = false },
                    Y = new() { Scale = input.Log ? AxisScale.Logarithmic : AxisScale.Linear, Min = yMin, Max = yMax, Title = $"{input.Property}, {input.Unit}", Second = input.Unit == "J" ? SecondUnit.FootPounds : null },
                    Items = items,
                },
            ],
            Data = new(["group", "hardness [HRC]", $"{input.Property} [{input.Unit}]", "coupons", "in the trend"],
                [.. input.Groups.Select(g => (IReadOnlyList<string>)[g.Name, FigureLayout.Exact(g.Hardness), FigureLayout.Exact(g.Value), FigureNumbers.Count(g.Coupons), g.InTrend ? "yes" : "no"]),
                 .. input.Lots.Select(l => (IReadOnlyList<string>)[l.Name, FigureLayout.Exact(l.Hardness), FigureLayout.Exact(l.Value), "", "no"])]),
        };
    }

    private static string Say(TrendInput input, int inTrend) => input.Trend is null
        ? "No trend is drawn: too few matching heats."
        : $"{(input.Trend.Bend is null ? "Trend" : "Bent trend")} through {inTrend} groups, heats as random effects, hardness error carried; bands 95 %. The lots on top are not in the trend{(input.Lots.Any(l => l.Low is not null) ? "; bar: 90 % of the mean" : "")}.";

    private static string Next(TrendLine trend) => trend.Group is { } group ? $"the next groups of {FigureNumbers.Count(group.Coupons)} coupons" : "the next heats";

    private static Limits RangeOf(TrendInput input)
    {
        double[] hardness = [.. input.Groups.Where(g => g.InTrend).Select(g => g.Hardness)];
        return hardness.Length == 0 ? new(0, 0) : new(hardness.Min(), hardness.Max());
    }

    private static IEnumerable<PanelItem> Bands(TrendInput input, TrendLine trend, Limits range)
    {
        if (!(range.High > range.Low))
            yield break;
        double t = StudentT.Quantile(0.975, trend.DegreesOfFreedom);
        double Back(double z) => input.Log ? Math.Exp(z) : z;
        List<BandPoint> next = [], line = [];
        List<Drawing.Place> centre = [];
        for (int i = 0; i <= Steps; i++)
        {
            double h = range.Low + ((range.High - range.Low) * i / Steps);
            double z = trend.At(h), variance = trend.VarianceAt(h);
            double narrow = t * Math.Sqrt(variance), wide = t * Math.Sqrt(trend.VarianceOfNext(h));
            next.Add(new(h, Back(z - wide), Back(z + wide)));
            line.Add(new(h, Back(z - narrow), Back(z + narrow)));
            centre.Add(new(h, Back(z)));
        }
        yield return new PanelItem.Band(next, false, true, $"95 % of {Next(trend)}");
        yield return new PanelItem.Band(line, true, false, "95 % of the trend");
        yield return new PanelItem.Line(centre, LineRole.Trend, "trend");
    }

    private static PanelItem.Mark Group(TrendGroup g, TrendInput input) => new(
        g.Hardness, g.Value, g.InTrend ? MarkShape.Dot : MarkShape.Plus, g.InTrend ? Math.Clamp(Math.Sqrt(g.Coupons / 5.0), 0.6, 1.8) : 1, MarkState.None, g.Name,
        $"{g.Coupons} coupons, {FigureNumbers.Value(g.Value)} {input.Unit} at {AxisTicks.Write(g.Hardness, 1)} HRC{(g.Note is null ? "" : ", " + g.Note)}", g.Link, Along.Y);

    private static IEnumerable<PanelItem> Lot(TrendLot lot, TrendInput input)
    {
        if (lot is { Low: { } low, High: { } high })
            yield return new PanelItem.Interval(Along.Y, lot.Hardness, low, high, low, high, lot.Candidate);
        string detail = $"{FigureNumbers.Value(lot.Value)} {input.Unit} at {AxisTicks.Write(lot.Hardness, 1)} HRC";
        yield return new PanelItem.Mark(lot.Hardness, lot.Value, lot.Candidate ? MarkShape.Lozenge : MarkShape.Ring, 1.35, MarkState.None, lot.Name, detail, lot.Link, Along.Y);
        yield return new PanelItem.NamedPlace(lot.Hardness, lot.Value, [new(lot.Name, lot.Candidate ? TextRole.Hot : TextRole.Strong), new(detail)]);
    }

    private static IReadOnlyList<KeyEntry> Key(TrendInput input)
    {
        List<KeyEntry> key = [new(MarkShape.Dot, "heat tested before, size by coupons")];
        if (input.Groups.Any(g => !g.InTrend))
            key.Add(new(MarkShape.Plus, "not in the trend"));
        if (input.Trend is { } trend)
            key.Add(new(null, $"dark band: the trend; light band: {Next(trend)}"));
        return key;
    }
}
