using Meltwise.Publishing.Drawing;
using Meltwise.Publishing.Fonts;

namespace Meltwise.Publishing.Figures;

/// <summary>Finds a free place for a label near what it names: of a fixed ring of candidates the one that covers fewest marks and no other label.</summary>
internal sealed class LabelPlacing(PanelLayout layout, IReadOnlyList<Place> marks)
{
    private static readonly Place[] s_offsets =
    [
        new(14, 5), new(-14, 5), new(12, -12), new(-12, -12), new(12, 22), new(-12, 22), new(34, -40), new(-34, -40), new(34, 44), new(-34, 44),
        new(60, -64), new(-60, -64), new(60, 70), new(-60, 70), new(84, -96), new(-84, -96), new(84, 110), new(-84, 110),
    ];

    private readonly List<(double X, double Y, double Width, double Height)> _taken = [];

    /// <summary>The label and its leader.</summary>
    public IEnumerable<Shape> Draw(PanelItem.NamedPlace label)
    {
        Place at = layout.At(label.X, label.Y);
        (double width, double height) = Size(label);
        Place offset = label.Offset ?? s_offsets.MinBy(o => Penalty(at, o, width, height));
        Anchor anchor = label.Offset is null && offset.X < 0 ? Anchor.End : label.Anchor;
        Place text = new(at.X + offset.X, at.Y + offset.Y);
        _taken.Add(Box(text, anchor, width, height));
        if (label.Leader && Math.Abs(offset.Y) > 30)
        {
            double side = anchor == Anchor.End ? 1 : -1;
            double shorter = 8 / Math.Max(1, Math.Sqrt((offset.X * offset.X) + (offset.Y * offset.Y)));
            yield return new Shape.Path(
                [new(at.X + (offset.X * shorter), at.Y + (offset.Y * shorter)), new(text.X + (side * 12), text.Y - 4), new(text.X + (side * 5), text.Y - 4)], false, null, new Pen(Ink.Rule, 0.9));
        }
        double y = text.Y;
        foreach (TextRun run in label.Lines)
        {
            (TypeStyle style, double line) = CellText.Style(run.Role);
            yield return new Shape.Text(new(text.X, y), run.Text, style, anchor, Halo: true);
            y += Math.Min(line, 17);
        }
    }

    private static (double Width, double Height) Size(PanelItem.NamedPlace label) =>
        (label.Lines.Max(r => TypeMeasure.Width(r.Text, CellText.Style(r.Role).Style)), 17 * label.Lines.Count);

    private static (double X, double Y, double Width, double Height) Box(Place text, Anchor anchor, double width, double height) =>
        (text.X - (anchor switch { Anchor.End => width, Anchor.Middle => width / 2, _ => 0 }), text.Y - 13, width, height);

    private double Penalty(Place at, Place offset, double width, double height)
    {
        (double x, double y, double w, double h) = Box(new(at.X + offset.X, at.Y + offset.Y), offset.X < 0 ? Anchor.End : Anchor.Start, width, height);
        double penalty = (Math.Abs(offset.X) + Math.Abs(offset.Y)) * 0.01;
        penalty += marks.Count(m => m.X > x - 7 && m.X < x + w + 7 && m.Y > y - 6 && m.Y < y + h + 6);
        penalty += 6 * _taken.Count(t => t.X < x + w + 6 && x < t.X + t.Width + 6 && t.Y < y + h && y < t.Y + t.Height);
        bool outside = x < layout.Left + 2 || x + w > layout.Left + layout.PlotWidth - 2 || y < layout.Top || y + h > layout.Top + layout.Height;
        return outside ? penalty + 50 : penalty;
    }
}
