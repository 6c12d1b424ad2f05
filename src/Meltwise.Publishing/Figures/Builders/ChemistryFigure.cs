namespace Meltwise.Publishing.Figures;

/// <summary>One element in both lots.</summary>
/// <param name="Element">Symbol with its unit where that is not wt%: <c>C</c>, <c>O, ppm</c>.</param>
/// <param name="Limits">Limits of the grade in words, or null.</param>
/// <param name="Reference">Reference as printed: <c>1.195 ± 0.016</c>, <c>&lt; 0.05</c>.</param>
/// <param name="Candidate">Candidate as printed.</param>
/// <param name="Method">Method.</param>
/// <param name="DifferenceInU">Difference candidate − reference in units of its expanded uncertainty (k = 2); null where one is below detection or has no uncertainty.</param>
public sealed record ElementRow(string Element, string? Limits, string Reference, string Candidate, string Method, double? DifferenceInU);

/// <summary>Chemistry of both lots and its differences, table and figure sharing their rows.</summary>
public static class ChemistryFigure
{
    /// <summary>Builds it.</summary>
    /// <param name="reference">Name of the reference lot.</param>
    /// <param name="candidate">Name of the candidate lot.</param>
    /// <param name="rows">Elements.</param>
    public static Figure Build(string reference, string candidate, IReadOnlyList<ElementRow> rows)
    {
        double most = Math.Clamp(rows.Max(r => Math.Abs(r.DifferenceInU ?? 0)) * 1.1, 3.4, 40);
        List<PanelItem> items = [new PanelItem.MarginShade(Along.X, -1, 1, 0)];
        List<TextCell>[] cells = [[], [], [], [], []];
        for (int i = 0; i < rows.Count; i++)
        {
            ElementRow row = rows[i];
            double at = i + 0.5;
            cells[0].Add(TextCell.Of(at, row.Element, TextRole.TableStrong));
            cells[1].Add(TextCell.Of(at, row.Limits ?? "–", TextRole.Quiet));
            cells[2].Add(Value(at, row.Reference));
            cells[3].Add(Value(at, row.Candidate));
            cells[4].Add(TextCell.Of(at, row.Method, TextRole.Quiet));
            if (row.DifferenceInU is { } d)
                items.Add(new PanelItem.Mark(Math.Clamp(d, -most, most), at, Math.Abs(d) > 1 ? MarkShape.Lozenge : MarkShape.OpenLozenge, 0.9, MarkState.None, row.Element, $"difference {FigureNumbers.Signed(d)} times its expanded uncertainty"));
        }
        return new()
        {
            Title = "Chemistry, and what differs by more than its uncertainty",
            Description = $"Chemistry of {reference} and {candidate} by element with the difference in units of its expanded uncertainty.",
            CaptionLead = "Chemistry,",
            Caption = $"value ± U (k = 2), wt% unless said. Right: difference {candidate} − {reference} in units of its own U; filled mark: outside it (shaded). Below detection is kept as such.",
            Panels =
            [
                new()
                {
                    Height = rows.Count * 26,
                    X = new() { Min = -most, Max = most, Grid = false, Title = "difference, in U" },
                    Y = Axis.Rows(rows.Count),
                    Items = items,
                    Left = [new(64, "element", cells[0]), .. rows.Any(r => r.Limits is not null) ? [new TextColumn(100, "grade", cells[1])] : Array.Empty<TextColumn>(), new(140, reference, cells[2]), new(140, candidate, cells[3]), new(130, "method", cells[4])],
                    RowRules = [.. Enumerable.Range(0, rows.Count + 1).Select(r => (double)r)],
                },
            ],
            Data = new(["element", "grade", reference, candidate, "method", "difference in U"], [.. rows.Select(r => (IReadOnlyList<string>)[r.Element, r.Limits ?? "", r.Reference, r.Candidate, r.Method, r.DifferenceInU is { } d ? FigureLayout.Exact(d) : ""])]),
        };
    }

    private static TextCell Value(double row, string text)
    {
        int sign = text.IndexOf('±', StringComparison.Ordinal);
        return sign < 0
            ? TextCell.Of(row, text, text.StartsWith('<') ? TextRole.Qualifier : TextRole.Table)
            : new(row, [[new(text[..sign].TrimEnd() + " ", TextRole.TableStrong), new(text[sign..], TextRole.Quiet)]]);
    }
}
