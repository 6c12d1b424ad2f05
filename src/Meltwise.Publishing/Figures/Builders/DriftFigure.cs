using System.Globalization;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Publishing.Figures;

/// <summary>Drift of an instrument: what each verification found less what its reference is certified for, against time, over the tolerance; stretches without verification shaded.</summary>
public static class DriftFigure
{
    private const double DaysAYear = 365.25;

    /// <summary>From an instrument and its verifications; null when none has a certified value and one found.</summary>
    /// <param name="instrument">The instrument.</param>
    /// <param name="kept">Its verifications.</param>
    /// <param name="link">Where a click on a verification leads, or null.</param>
    public static Figure? Build(Instrument instrument, IReadOnlyList<Verification> kept, Func<Verification, string?>? link = null)
    {
        Verification[] drawn = [.. kept.Where(v => v is { Found: not null, ReferenceValue: not null }).OrderBy(v => v.On)];
        if (drawn.Length == 0)
            return null;
        (DateOnly from, DateOnly to) = (drawn[0].On.AddDays(-30), kept.Max(v => v.On).AddDays(60));
        double?[] tolerances = [.. drawn.Select(v => VerificationTolerance.Of(instrument.Property, instrument.Unit, v.ReferenceValue!.Value))];
        double widest = drawn.Select((v, i) => Math.Max(Math.Abs(Difference(v)), tolerances[i] ?? 0)).Max();
        double limit = widest > 0 ? 1.25 * widest : 1;
        IReadOnlyList<(DateOnly From, DateOnly To, VerificationStanding Standing)> open =
            [.. VerificationStanding.Stretches(kept, from, to).Where(s => s.Standing.State != InstrumentState.BeforeFirst)];
        return new()
        {
            Title = $"{char.ToUpperInvariant(instrument.Name[0])}{instrument.Name[1..]}: found less certified",
            Description = $"Difference of found and certified value at {drawn.Length} verifications of {instrument.Name}, {Day(drawn[0].On)} to {Day(drawn[^1].On)}.",
            CaptionLead = "Drift.",
            Caption = $"Each mark is the mean found on a reference less its certified value; struck through, a check that failed. {(open.Count > 0 ? "Shaded to its limits: days without a valid verification, or in doubt because the next check failed. " : "")}{References(drawn)}",
            Panels =
            [
                new()
                {
                    Height = 220,
                    X = new() { Min = At(from), Max = At(to), Title = "day of verification", Ticks = Ticks(from, to) },
                    Y = new() { Min = -limit, Max = limit, Title = $"found less certified, {instrument.Unit}" },
                    Items = [.. Items(instrument, drawn, tolerances, open, (from, to), link)],
                },
            ],
            Data = new(
                ["day", "holds until", "reference", $"certified [{instrument.Unit}]", $"found [{instrument.Unit}]", $"found less certified [{instrument.Unit}]", $"tolerance [{instrument.Unit}]", "result"],
                [.. drawn.Select((v, i) => (IReadOnlyList<string>)[Day(v.On), Day(v.ValidUntil), v.Reference ?? "", Exact(v.ReferenceValue), Exact(v.Found), Exact(Math.Round(Difference(v), 6)), Exact(tolerances[i]), v.Passed ? "within limits" : "outside limits"])]),
            Sources = VerificationTolerance.SourceOf(instrument.Property) is { } source && tolerances.Any(t => t is not null) ? [source] : [],
        };
    }

    private static IEnumerable<PanelItem> Items(
        Instrument instrument, Verification[] drawn, double?[] tolerances, IReadOnlyList<(DateOnly From, DateOnly To, VerificationStanding Standing)> open, (DateOnly From, DateOnly To) span, Func<Verification, string?>? link)
    {
        foreach ((DateOnly from, DateOnly to, _) in open)
            yield return new PanelItem.MarginShade(Along.X, At(from), At(to.AddDays(1)), null);
        List<BandPoint> band = [];
        for (int i = 0; i < drawn.Length; i++)
            if (tolerances[i] is { } t)
            {
                (double start, double end) = (i == 0 ? At(span.From) : At(drawn[i].On), i + 1 < drawn.Length ? At(drawn[i + 1].On) : At(span.To));
                band.AddRange([new(start, -t, t), new(end, -t, t)]);
            }
        if (band.Count > 0)
            yield return new PanelItem.Band(band, false, true);
        yield return new PanelItem.Line([new(At(span.From), 0), new(At(span.To), 0)], LineRole.Dotted);
        yield return new PanelItem.Line([.. drawn.Select(v => new Drawing.Place(At(v.On), Difference(v)))], LineRole.Thin);
        foreach (Verification v in drawn)
            yield return new PanelItem.Mark(
                At(v.On), Difference(v), MarkShape.Sealed, 1, v.Passed ? MarkState.None : MarkState.Invalid, Day(v.On),
                $"{(v.Reference is null ? "" : v.Reference + ", ")}found {Exact(v.Found)} {instrument.Unit}, {FigureNumbers.Signed(Difference(v))}, {(v.Passed ? "within limits" : "outside limits")}", link?.Invoke(v), Along.Y);
    }

    private static string References(Verification[] drawn) =>
        string.Join("; ", drawn.Where(v => v.Reference is not null).GroupBy(v => v.Reference).Select(g => $"{g.Key}: {g.Count()} {(g.Count() == 1 ? "check" : "checks")}")) is { Length: > 0 } said ? $"References: {said}." : "";

    private static double Difference(Verification v) => v.Found!.Value - v.ReferenceValue!.Value;

    private static double At(DateOnly day) => day.Year + ((day.DayOfYear - 1) / DaysAYear);

    // Years while they are many, quarters when they are few.
    private static Tick[] Ticks(DateOnly from, DateOnly to)
    {
        int every = to.DayNumber - from.DayNumber > 3 * DaysAYear ? 12 : 3;
        return
        [
            .. Enumerable.Range(0, (to.Year - from.Year + 1) * 12 / every).Select(i => new DateOnly(from.Year, 1, 1).AddMonths(i * every)).Where(d => d >= from && d <= to)
                .Select(d => new Tick(At(d), d.ToString(d.Month == 1 ? "yyyy" : "MMM", CultureInfo.InvariantCulture))),
        ];
    }

    private static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Exact(double? value) => value is { } v ? FigureLayout.Exact(v) : "";
}
