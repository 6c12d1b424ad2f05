using System.Globalization;
using Meltwise.Casework.Judging;

namespace Meltwise.Publishing.Figures;

/// <summary>The ledger of readings: every coupon of both lots by furnace load, table and figure sharing their rows.</summary>
public static class ReadingsFigure
{
    private const double RowHeight = 26;

    // Coupon 2 comes before coupon 11.
    private static readonly StringComparer s_byNumber = StringComparer.Create(CultureInfo.InvariantCulture, CompareOptions.NumericOrdering);

    /// <summary>Builds it; null without two lots.</summary>
    /// <param name="verdict">The verdict, which holds every coupon that entered.</param>
    /// <param name="linkOf">Address of a coupon’s page; null for no links.</param>
    public static Figure? Build(Verdict verdict, Func<CouponPoint, string?>? linkOf = null)
    {
        if (verdict.Lots.Count != 2 || verdict.Lots.Any(l => l.Coupons.Count == 0))
            return null;
        Ledger ledger = new(verdict, linkOf);
        ledger.Fill();
        VerdictScale scale = VerdictScale.Of(verdict);
        double[] values = [.. verdict.Lots.SelectMany(l => l.Coupons).Select(c => c.Value)];
        (double min, double max) = Room(values.Min(), values.Max(), scale.IsRatio);
        return new()
        {
            Title = "Every coupon, by furnace load",
            Description = $"Every coupon of {Heats(verdict.Lots[0])} (rings) and {Heats(verdict.Lots[1])} (lozenges) by furnace load, {verdict.Rule.Property} in {verdict.Rule.Unit}.",
            CaptionLead = "Every coupon.",
            Caption = $"Uprights: {(scale.IsRatio ? "geometric mean" : "mean")} of the load. {char.ToUpperInvariant(verdict.Rule.Property[0])}{verdict.Rule.Property[1..]}, {verdict.Stratum.Condition}; hardness is the mean of a coupon’s readings.",
            Key = [new(MarkShape.Ring, $"{Heats(verdict.Lots[0])}, reference"), new(MarkShape.Lozenge, $"{Heats(verdict.Lots[1])}, candidate"), .. verdict.Suspects.Count > 0 ? [new KeyEntry(MarkShape.Ring, "suspect, kept", MarkState.Suspect)] : Array.Empty<KeyEntry>()],
            Panels =
            [
                new()
                {
                    Height = ledger.Rows * RowHeight,
                    X = new() { Scale = scale.Axis, Min = min, Max = max, Unit = verdict.Rule.Unit, Second = verdict.Rule.Unit == "J" ? SecondUnit.FootPounds : null },
                    Y = Axis.Rows(ledger.Rows),
                    Items = ledger.Items,
                    Left = ledger.Left,
                    Right = ledger.Right,
                    RowRules = ledger.Rules,
                },
            ],
            Data = VerdictFigure.Build(verdict).Data,
        };
    }

    private static string Heats(Lot lot) => string.Join(", ", lot.Heat);

    private static (double Min, double Max) Room(double min, double max, bool log)
    {
        if (log && min > 0)
            return (min / Math.Pow(max / min, 0.07) / 1.01, max * Math.Pow(max / min, 0.07) * 1.01);
        double room = Math.Max(0.07 * (max - min), 1e-6 * Math.Max(1, Math.Abs(max)));
        return (min - room, max + room);
    }

    private sealed class Ledger(Verdict verdict, Func<CouponPoint, string?>? linkOf)
    {
        private readonly List<TextCell>[] _cells = [[], [], [], [], [], [], [], []];

        public List<PanelItem> Items { get; } = [];

        public List<double> Rules { get; } = [0];

        public double Rows { get; private set; }

        public IReadOnlyList<TextColumn> Left =>
            [new(44, "order", _cells[0], true), new(64, "coupon", _cells[1]), new(56, "HRC", _cells[2], true), new(62, verdict.Rule.Unit, _cells[3], true)];

        public IReadOnlyList<TextColumn> Right =>
            [new(62, verdict.Rule.Unit, _cells[4], true), new(56, "HRC", _cells[5], true), new(64, "coupon", _cells[6]), new(44, "order", _cells[7], true)];

        public void Fill()
        {
            string?[] loads = [.. verdict.Lots.SelectMany(l => l.Coupons).Select(c => c.Load).Distinct().OrderBy(l => l, s_byNumber)];
            foreach (string? load in loads)
            {
                if (load is not null)
                {
                    _cells[0].Add(new(Rows + 0.5, [[new("", TextRole.Label)]]));
                    _cells[1].Add(TextCell.Of(Rows + 0.5, $"Load {load}", TextRole.Strong));
                    _cells[6].Add(TextCell.Of(Rows + 0.5, $"Load {load}", TextRole.Strong));
                    Rows += 1;
                }
                double start = Rows;
                int most = 0;
                for (int lot = 0; lot < 2; lot++)
                {
                    CouponPoint[] coupons = [.. verdict.Lots[lot].Coupons.Where(c => c.Load == load).OrderBy(c => c.Order ?? int.MaxValue).ThenBy(c => c.Coupon, s_byNumber)];
                    most = Math.Max(most, coupons.Length);
                    for (int i = 0; i < coupons.Length; i++)
                        Add(coupons[i], lot, start + i + 0.5);
                    if (coupons.Length > 1)
                        Upright(coupons, lot, start, coupons.Length);
                }
                Rows = start + most;
                Rules.Add(Rows);
            }
        }

        private void Upright(CouponPoint[] coupons, int lot, double start, int rows)
        {
            double mean = verdict.Rule.Scale == "log" ? Math.Exp(coupons.Average(c => Math.Log(c.Value))) : coupons.Average(c => c.Value);
            Items.Insert(0, new PanelItem.Line([new(mean, start + 0.1), new(mean, start + rows - 0.1)], lot == 0 ? LineRole.Trend : LineRole.Hot));
        }

        private void Add(CouponPoint coupon, int lot, double row)
        {
            bool suspect = verdict.Suspects.Any(s => s.Coupon == coupon.Coupon && s.Lot == coupon.Heat);
            string bound = coupon.Bound switch { "above" => "> ", "below" => "< ", _ => "" };
            string value = bound + FigureNumbers.Value(coupon.Value);
            string hardness = coupon.Hardness is { } h ? AxisTicks.Write(h, 1) : "–";
            TextCell[] cells =
            [
                TextCell.Of(row, coupon.Order is { } o ? FigureNumbers.Count(o) : "–", TextRole.Quiet), new(row, [[new(coupon.Coupon, TextRole.Strong), new(suspect ? "s" : "", TextRole.Raised)]]),
                TextCell.Of(row, hardness, TextRole.Table), TextCell.Of(row, value, TextRole.Table),
            ];
            int[] columns = lot == 0 ? [0, 1, 2, 3] : [7, 6, 5, 4];
            for (int i = 0; i < 4; i++)
                _cells[columns[i]].Add(cells[i]);
            MarkState state = (suspect ? MarkState.Suspect : MarkState.None) | (coupon.Bound switch { "above" => MarkState.CensoredAbove, "below" => MarkState.CensoredBelow, _ => MarkState.None });
            Items.Add(new PanelItem.Mark(coupon.Value, row, lot == 0 ? MarkShape.Ring : MarkShape.Lozenge, 0.95, state, $"{coupon.Heat} {coupon.Coupon}", $"{value} {verdict.Rule.Unit}, {hardness} HRC", linkOf?.Invoke(coupon)));
        }
    }
}
