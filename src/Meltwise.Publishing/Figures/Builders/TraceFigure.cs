using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;
using Meltwise.Metallurgy.Furnaces;

namespace Meltwise.Publishing.Figures;

/// <summary>The trace of a furnace load against time, over the set value and its tolerance; the soak stands between two dotted lines.</summary>
public static class TraceFigure
{
    private const int MostDrawn = 1200;

    /// <summary>From a trace.</summary>
    public static Figure Build(FurnaceTrace trace)
    {
        FurnaceSoak soak = FurnaceTraceWords.Soak(trace);
        double end = trace.Minutes[^1], low = Math.Min(trace.TemperatureC.Min(), trace.SetC - trace.ToleranceC), high = Math.Max(trace.TemperatureC.Max(), trace.SetC + trace.ToleranceC);
        double room = 0.06 * Math.Max(high - low, 1);
        return new()
        {
            Title = $"{trace.Name}: load {trace.Load}",
            Description = $"Temperature of load {trace.Load}, {trace.Channel}, over {Number(end)} minutes; {FurnaceTraceWords.Summary(trace)}.",
            CaptionLead = "Furnace trace.",
            Caption = $"Load {trace.Load}, {trace.Channel}{(trace.StartedAt is { } at ? string.Create(CultureInfo.InvariantCulture, $", from {at:yyyy-MM-dd HH:mm}") : "")}. {Sentence(FurnaceTraceWords.Summary(trace))}. Band: the set value and its tolerance; dotted: beginning and end of the soak.",
            Panels =
            [
                new()
                {
                    Height = 170,
                    X = new() { Min = 0, Max = end, Title = "time, min" },
                    Y = new() { Min = low - room, Max = high + room, Title = "temperature, °C" },
                    Items = [.. Items(trace, soak, end, (low - room, high + room))],
                },
            ],
            Data = new(["time [min]", $"{trace.Channel}, as read [°C]"], [.. trace.Minutes.Zip(trace.TemperatureC, (m, c) => (IReadOnlyList<string>)[FigureLayout.Exact(m), FigureLayout.Exact(c)])]),
        };
    }

    private static IEnumerable<PanelItem> Items(FurnaceTrace trace, FurnaceSoak soak, double end, (double Low, double High) span)
    {
        (double low, double high) = (trace.SetC - trace.ToleranceC, trace.SetC + trace.ToleranceC);
        yield return new PanelItem.Band([new(0, low, high), new(end, low, high)], false, true);
        foreach (double at in new[] { soak.BeginsMin, soak.EndsMin }.OfType<double>())
            yield return new PanelItem.Line([new(at, span.Low), new(at, span.High)], LineRole.Dotted);
        yield return new PanelItem.Line(Drawn(trace), LineRole.Heavy);
    }

    // A recorder writes more than a line of this width shows: of each stretch the lowest and the highest reading are drawn, so that no peak is lost.
    private static IReadOnlyList<Drawing.Place> Drawn(FurnaceTrace trace)
    {
        int count = trace.Minutes.Count;
        if (count <= MostDrawn) return [.. trace.Minutes.Zip(trace.TemperatureC, (m, c) => new Drawing.Place(m, c))];
        SortedSet<int> kept = [0, count - 1];
        int each = (2 * count + MostDrawn - 1) / MostDrawn;
        for (int start = 0; start < count; start += each)
        {
            int[] stretch = [.. Enumerable.Range(start, Math.Min(each, count - start))];
            kept.Add(stretch.MinBy(i => trace.TemperatureC[i]));
            kept.Add(stretch.MaxBy(i => trace.TemperatureC[i]));
        }
        return [.. kept.Select(i => new Drawing.Place(trace.Minutes[i], trace.TemperatureC[i]))];
    }

    private static string Number(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    private static string Sentence(string text) => char.ToUpperInvariant(text[0]) + text[1..];
}
