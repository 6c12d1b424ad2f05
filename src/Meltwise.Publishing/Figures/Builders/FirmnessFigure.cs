using Meltwise.Casework.Judging;

namespace Meltwise.Publishing.Figures;

/// <summary>A variant of the judging and its outcome.</summary>
/// <param name="Name">What was done otherwise.</param>
/// <param name="Outcome">What came out.</param>
public sealed record FirmnessVariant(string Name, Outcome Outcome);

/// <summary>The figure of how firm a verdict is: the outcome under every other reasonable choice.</summary>
public static class FirmnessFigure
{
    private static readonly Outcome[] s_order =
        [Outcome.Worse, Outcome.Lower, Outcome.DifferentOpen, Outcome.Inconclusive, Outcome.EquivalentDetectable, Outcome.Equivalent, Outcome.Higher, Outcome.Better, Outcome.NoVerdict];

    /// <summary>From a verdict; null when it has no variants.</summary>
    public static Figure? Build(Verdict verdict)
    {
        if (verdict.Variants is not { Of: > 0 } variants)
            return null;
        return Build(verdict.FirstOutcome, [.. variants.Outcomes.Select(o => new FirmnessVariant(VariantWords.Of(o.Key), o.Value))]);
    }

    /// <summary>From plain values.</summary>
    /// <param name="outcome">Outcome of the verdict.</param>
    /// <param name="variants">The other choices.</param>
    public static Figure Build(Outcome outcome, IReadOnlyList<FirmnessVariant> variants)
    {
        Outcome[] columns = [.. s_order.Where(o => o == outcome || variants.Any(v => v.Outcome == o))];
        double width = columns.Length, home = Array.IndexOf(columns, outcome);
        FirmnessVariant[] rows = [.. variants.OrderBy(v => v.Outcome == outcome)];
        int agree = variants.Count(v => v.Outcome == outcome);
        List<PanelItem> items = [new PanelItem.MarginShade(Along.X, home, home + 1, null)];
        List<TextCell> names = [];
        for (int row = 0; row < rows.Length; row++)
        {
            bool same = rows[row].Outcome == outcome;
            double x = Array.IndexOf(columns, rows[row].Outcome) + 0.5;
            names.Add(TextCell.Of(row + 0.5, rows[row].Name, same ? TextRole.Label : TextRole.Strong));
            items.Add(new PanelItem.Mark(x, row + 0.5, same ? MarkShape.Sealed : MarkShape.Square, 1, MarkState.None, rows[row].Name, Words(rows[row].Outcome)));
        }
        return new()
        {
            Title = $"How firm it is: the same outcome under {agree} of {variants.Count} other choices",
            Description = $"The outcome under {variants.Count} other reasonable choices; {agree} give the same.",
            CaptionLead = agree == variants.Count ? "Nobody dissents." : "Dissenters above.",
            Caption = "Each row is one other reasonable choice of method or data; shaded, the outcome of the verdict. This counts choices; it is no probability.",
            Panels =
            [
                new()
                {
                    Height = Math.Max(1, rows.Length) * 24,
                    X = new() { Min = 0, Max = width, Grid = false, Ticks = [.. columns.Select((o, i) => new Tick(i + 0.5, Words(o)))] },
                    Y = Axis.Rows(Math.Max(1, rows.Length)),
                    Items = items,
                    Left = [new(300, null, names)],
                    RowRules = [.. Enumerable.Range(0, rows.Length + 1).Select(r => (double)r)],
                },
            ],
            Data = new(["choice", "outcome"], [.. rows.Select(r => (IReadOnlyList<string>)[r.Name, r.Outcome.Code()])]),
        };
    }

    private static string Words(Outcome outcome) => outcome switch
    {
        Outcome.EquivalentDetectable => "equivalent, detectable",
        Outcome.DifferentOpen => "different, open",
        Outcome.NoVerdict => "no verdict",
        _ => OutcomeSigns.Word(outcome).ToLowerInvariant(),
    };
}
