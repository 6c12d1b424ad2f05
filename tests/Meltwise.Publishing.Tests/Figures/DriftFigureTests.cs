using Meltwise.Domain;
using Meltwise.Publishing.Figures;
using Xunit;

namespace Meltwise.Publishing.Tests.Figures;

/// <summary>The drift of an instrument as a figure. The checks are invented; they check behaviour.</summary>
public sealed class DriftFigureTests
{
    private static readonly Instrument s_tester = new("tester 1", "hardness tester", "hardness", "HRC");

    private static readonly Verification[] s_kept =
    [
        new("tester 1", new(2024, 1, 10), new(2024, 12, 31), true, "block 62.4 HRC", 62.4, 62.5),
        new("tester 1", new(2025, 3, 10), new(2025, 3, 10), false, "block 62.4 HRC", 62.4, 63.1, "indenter replaced"),
        new("tester 1", new(2025, 3, 12), new(2026, 3, 31), true, "block 62.4 HRC", 62.4, 62.4),
        new("tester 1", new(2026, 3, 1), new(2027, 3, 31), true),
    ];

    [Fact]
    public void Differences_stand_over_the_tolerance_and_open_days_are_shaded()
    {
        Figure figure = DriftFigure.Build(s_tester, s_kept, v => $"instruments/tester%201#{v.On.DayNumber}")!;
        PanelItem.Mark[] marks = [.. figure.Panels[0].Items.OfType<PanelItem.Mark>()];
        Assert.Equal([0.1, 0.7, 0], marks.Select(m => Math.Round(m.Y, 9)));
        Assert.Equal([MarkState.None, MarkState.Invalid, MarkState.None], marks.Select(m => m.State));
        Assert.All(figure.Panels[0].Items.OfType<PanelItem.Band>().Single().Points, p => Assert.Equal((-0.5, 0.5), (p.Low, p.High)));

        // In doubt by the check that failed, then lapsed, then failed until the good one: 2024-01-10 to 2025-03-11 in three stretches.
        double[] shaded = [.. figure.Panels[0].Items.OfType<PanelItem.MarginShade>().SelectMany(s => new[] { s.Low, s.High })];
        Assert.Equal(6, shaded.Length);
        Assert.Equal(2024 + (9 / 365.25), shaded[0], 9);
        Assert.Equal(2025 + (70 / 365.25), shaded[^1], 9);
        Assert.Contains("ASTM E18", Assert.Single(figure.Sources), StringComparison.Ordinal);
    }

    [Fact]
    public void Its_data_has_every_check_with_both_values()
    {
        FigureData data = DriftFigure.Build(s_tester, s_kept)!.Data;
        Assert.Equal(3, data.Rows.Count);
        Assert.Equal(["2025-03-10", "2025-03-10", "block 62.4 HRC", "62.4", "63.1", "0.7", "0.5", "outside limits"], data.Rows[1]);
    }

    [Fact]
    public void Where_no_tolerance_is_given_none_is_drawn()
    {
        Figure figure = DriftFigure.Build(s_tester with { Property = "fracture toughness", Unit = "MPa·√m" }, s_kept)!;
        Assert.Empty(figure.Panels[0].Items.OfType<PanelItem.Band>());
        Assert.Empty(figure.Sources);
    }

    [Fact]
    public void Without_a_certified_value_there_is_nothing_to_draw() => Assert.Null(DriftFigure.Build(s_tester, [s_kept[^1]]));
}
