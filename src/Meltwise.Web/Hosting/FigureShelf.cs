using System.Collections.Concurrent;
using Meltwise.Casework.Judging;
using Meltwise.Casework.Recording;
using Meltwise.Publishing.Figures;
using Meltwise.Publishing.Report;
using Meltwise.Web.Page;

namespace Meltwise.Web.Hosting;

/// <summary>A figure of a verdict under the name its address carries.</summary>
/// <param name="Name">The name.</param>
/// <param name="Figure">The figure, for files.</param>
/// <param name="Html">The figure as it stands in the page, drawn once.</param>
public sealed record NamedFigure(string Name, Figure Figure, string Html);

/// <summary>Keeps the figures of stored verdicts, so that a page with a verdict does not read the whole history again. A verdict given anew has a new stamp and new figures.</summary>
public sealed class FigureShelf
{
    private const int Most = 64;
    private readonly ConcurrentDictionary<(string Place, string Enquiry, DateTime AtUtc), IReadOnlyList<NamedFigure>> _kept = new();

    /// <summary>The figures of a stored verdict.</summary>
    public IReadOnlyList<NamedFigure> Of(IBench bench, StoredDocument document, Verdict verdict)
    {
        (string, string, DateTime) key = (bench.Card.Place, document.Enquiry, document.AtUtc);
        if (_kept.TryGetValue(key, out IReadOnlyList<NamedFigure>? kept))
        {
            return kept;
        }

        if (_kept.Count >= Most)
        {
            _kept.Clear();
        }

        return _kept[key] =
        [
            .. Build(bench, verdict).Select(f => new NamedFigure(
                f.Name, f.Figure, Html(f.Figure, "fig-" + f.Name, $"{Addresses.Enquiry(document.Enquiry)}/figures/{f.Name}"))),
        ];
    }

    private static string Html(Figure figure, string id, string files) => FigureHtml.Write(figure, FigureZoom.Options(id, files), files);

    private static IEnumerable<(string Name, Figure Figure)> Build(IBench bench, Verdict verdict)
    {
        if (verdict.Lots.Count == 2 && verdict.Lots.All(l => l.Coupons.Count > 0))
        {
            yield return ("verdict", VerdictFigure.Build(verdict, c => Addresses.Coupon(c.Heat, c.Coupon)));
        }

        if (TrendHistory.Of(bench.CouponTable(new CouponSelection(Property: verdict.Rule.Property)), verdict, Addresses.Heat) is { } trend)
        {
            yield return ("trend", TrendFigure.Build(trend));
        }

        if (FirmnessFigure.Build(verdict) is { } firmness)
        {
            yield return ("firmness", firmness);
        }

        if (verdict.Pairs is { Pairs.Count: > 1 } pairs)
        {
            yield return ("pairs", Forest(pairs, verdict));
        }
    }

    private static Figure Forest(AllPairs pairs, Verdict verdict) => ForestFigure.Build(
        [.. pairs.Pairs.Select((p, i) => new ForestRow(
            p.Enquiry, p.AtEqualHardness ? "at equal hardness" : "as tested", p.Ratio, p.Lower, p.Upper, i == pairs.Pairs.Count - 1, Addresses.Enquiry(p.Enquiry)))],
        pairs.Mean is { } mean ? (mean.Estimate, new(mean.Lower, mean.Upper)) : null,
        pairs.Prediction is { } next ? new(next.Lower, next.Upper) : null,
        verdict.Rule is { MarginLow: { } low, MarginHigh: { } high } ? new(low, high) : null, pairs.Orientation);
}
