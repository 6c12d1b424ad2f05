using Meltwise.Casework.Judging;
using Meltwise.Domain;
using Meltwise.Statistics.Distributions;

namespace Meltwise.Publishing.Figures;

/// <summary>The figure of the verdict: every coupon of both lots above, the answers to the questions below, one margin through both.</summary>
/// <remarks>The two panels share their axis: a ratio r stands under the reading r times the reference mean, so the margin is seen among the coupons themselves.</remarks>
public static class VerdictFigure
{
    private const double CouponRow = 84, AnswerRow = 78, LeftWidth = 232, RightWidth = 150, Plot = 394;

    /// <summary>Builds it.</summary>
    /// <param name="verdict">The verdict.</param>
    /// <param name="linkOf">Address of a coupon's page; null for no links.</param>
    public static Figure Build(Verdict verdict, Func<CouponPoint, string?>? linkOf = null)
    {
        VerdictScale scale = VerdictScale.Of(verdict);
        List<Panel> panels = [];
        if (verdict.Lots.Count > 0)
            panels.Add(Coupons(verdict, scale, linkOf));
        if (scale.HasMargin && VerdictAnswers.Of(verdict).Any())
            panels.Add(Answers(verdict, scale));
        return new()
        {
            Title = $"{OutcomeSigns.Word(verdict.FirstOutcome)}: {OutcomeSigns.Qualifier(verdict.FirstOutcome)}",
            Description = $"Every coupon of both lots and the intervals of the verdict over the agreed margin. {verdict.Finding.Text}",
            CaptionLead = "Every coupon, and what they come to.",
            Caption = Caption(verdict, scale),
            Key = Key(verdict),
            Panels = panels,
            Data = Data(verdict),
        };
    }

    private static Panel Coupons(Verdict verdict, VerdictScale scale, Func<CouponPoint, string?>? linkOf)
    {
        List<PanelItem> items = [];
        List<TextCell> left = [], right = [];
        if (scale.HasMargin && verdict.Lots.Any(l => l is { Role: "reference", N: > 0 }))
            items.Add(new PanelItem.MarginShade(Along.X, scale.ToValue(scale.Low), scale.ToValue(scale.High), scale.ToValue(scale.Null), verdict.Lots.Count == 0 ? null : $"margin about the reference mean, {scale.MarginText}"));
        for (int row = 0; row < verdict.Lots.Count; row++)
        {
            Lot lot = verdict.Lots[row];
            bool candidate = lot.Role == "candidate";
            items.AddRange(Marks(verdict, lot, row, scale, candidate, linkOf));
            items.AddRange(Mean(verdict, lot, row, candidate));
            string heat = string.Join(", ", lot.Heat);
            left.Add(new(row + 0.5, [[new(heat, candidate ? TextRole.Hot : TextRole.Strong), new($", {(candidate ? "candidate" : "reference")}")], [new($"{lot.N} coupons" + (lot.HardnessMean is { } h ? $", {AxisTicks.Write(h, 1)} HRC" : ""), TextRole.Quiet)]], Mark: candidate ? MarkShape.Lozenge : MarkShape.Ring));
            string spread = lot.LogSd is { } sd ? $"spread {FigureNumbers.Percent(sd)}" : lot.Sd is { } plain ? $"SD {FigureNumbers.Value(plain)}" : "";
            right.Add(new(row + 0.5, [lot.N == 0 ? [new("not read", TextRole.Quiet)] : [new(FigureNumbers.Value(lot.GeometricMean ?? lot.Mean), TextRole.TableStrong), new(" " + verdict.Rule.Unit, TextRole.Table)], [new(spread, TextRole.Quiet)]]));
        }
        bool energy = verdict.Rule.Unit == "J";
        return new()
        {
            Height = CouponRow * verdict.Lots.Count,
            X = new() { Scale = scale.Axis, Min = scale.ToValue(scale.Min), Max = scale.ToValue(scale.Max), Unit = verdict.Rule.Unit, Second = energy ? SecondUnit.FootPounds : null },
            Y = Axis.Rows(verdict.Lots.Count),
            Items = items,
            Left = [new(LeftWidth, null, left)],
            Right = [new(RightWidth, scale.IsRatio ? "geometric mean" : "mean", right)],
            RowRules = [.. Enumerable.Range(0, verdict.Lots.Count).Select(r => (double)r)],
        };
    }

    private static IEnumerable<PanelItem> Marks(Verdict verdict, Lot lot, int row, VerdictScale scale, bool candidate, Func<CouponPoint, string?>? linkOf)
    {
        double middle = row + 0.42;
        double[] at = [.. lot.Coupons.Select(c => scale.Fraction(c.Value) * Plot)];
        IReadOnlyList<double> offsets = Swarm.Offsets(at, 11.5);
        double most = offsets.Count == 0 ? 0 : offsets.Max(Math.Abs);
        double squeeze = most > 26 ? 26 / most : 1;
        for (int i = 0; i < lot.Coupons.Count; i++)
        {
            CouponPoint coupon = lot.Coupons[i];
            MarkState state = coupon.Bound switch { "above" => MarkState.CensoredAbove, "below" => MarkState.CensoredBelow, _ => MarkState.None };
            if (verdict.Suspects.Any(s => s.Coupon == coupon.Coupon && lot.Heat.Contains(s.Lot)))
                state |= MarkState.Suspect;
            yield return new PanelItem.Mark(coupon.Value, middle + (offsets[i] * squeeze / CouponRow), candidate ? MarkShape.Lozenge : MarkShape.Ring, 0.92, state, $"{coupon.Heat} {coupon.Coupon}", Detail(coupon, verdict.Rule.Unit), linkOf?.Invoke(coupon));
        }
        foreach (LeftOutCoupon coupon in verdict.LeftOut.Where(c => !c.Enters && c.Value is not null && lot.Heat.Contains(c.Lot)))
        {
            MarkState state = coupon.State == "invalid" ? MarkState.Invalid : MarkState.Excluded;
            yield return new PanelItem.Mark(coupon.Value!.Value, row + 0.14, candidate ? MarkShape.Lozenge : MarkShape.Ring, 0.8, state, $"{coupon.Lot} {coupon.Coupon}", $"{FigureNumbers.Value(coupon.Value.Value)} {verdict.Rule.Unit}, {coupon.State}: {coupon.Cause ?? "no cause given"}");
        }
    }

    private static string Detail(CouponPoint coupon, string unit)
    {
        string bound = coupon.Bound switch { "above" => "more than ", "below" => "less than ", _ => "" };
        string hardness = coupon.Hardness is { } h ? $", {AxisTicks.Write(h, 1)} HRC" : "";
        string load = coupon.Load is { } l ? $", load {l}" : "";
        string order = coupon.Order is { } o ? $", broken as number {o}" : "";
        return $"{bound}{FigureNumbers.Value(coupon.Value)} {unit}{hardness}{load}{order}";
    }

    private static IEnumerable<PanelItem> Mean(Verdict verdict, Lot lot, int row, bool candidate)
    {
        double? sd = lot.LogSd ?? lot.Sd;
        if (sd is not { } s || lot.N < 2)
            yield break;
        double at = row + 0.84, alpha = verdict.Rule.Alpha, error = s / Math.Sqrt(lot.N);
        double Limit(double p, int side)
        {
            double step = side * StudentT.Quantile(p, lot.N - 1) * error;
            return lot.LogSd is not null ? lot.GeometricMean!.Value * Math.Exp(step) : lot.Mean + step;
        }
        yield return new PanelItem.Interval(Along.X, at, Limit(1 - (alpha / 2), -1), Limit(1 - (alpha / 2), 1), Limit(1 - alpha, -1), Limit(1 - alpha, 1), candidate);
        yield return new PanelItem.Mark(lot.GeometricMean ?? lot.Mean, at, candidate ? MarkShape.Lozenge : MarkShape.Ring, 1, MarkState.None, $"{string.Join(", ", lot.Heat)}, mean", $"{FigureNumbers.Value(lot.GeometricMean ?? lot.Mean)} {verdict.Rule.Unit} of {lot.N} coupons");
    }

    private static Panel Answers(Verdict verdict, VerdictScale scale)
    {
        List<PanelItem> items = [new PanelItem.MarginShade(Along.X, scale.Low, scale.High, scale.Null, $"{(IsAgreed(verdict) ? "agreed margin" : "margin")} {scale.MarginText}")];
        List<TextCell> left = [], right = [];
        int row = 0;
        foreach (VerdictAnswer answer in VerdictAnswers.Of(verdict))
        {
            double at = row + 0.5;
            left.Add(new(at, [[new(answer.Question, answer.IsRule ? TextRole.Strong : TextRole.Label)], [new(answer.Word, TextRole.Outcome)], [new(answer.Qualifier, TextRole.Qualifier)]], answer.Sign, Above: answer.Estimate > scale.Null));
            right.Add(new(at, answer.Numbers));
            if (answer.Wide is { } wide)
            {
                items.Add(new PanelItem.Interval(Along.X, at, wide.Low, wide.High, answer.Narrow?.Low, answer.Narrow?.High, true));
                items.Add(new PanelItem.Mark(answer.Estimate!.Value, at, MarkShape.Lozenge, 1.1, MarkState.None, answer.Question, $"{answer.Word}: {string.Concat(answer.Numbers[0].Select(r => r.Text))}"));
            }
            row++;
        }
        string candidate = verdict.Lots.Count > 1 ? string.Join(", ", verdict.Lots[1].Heat) : "candidate", reference = verdict.Lots.Count > 0 ? string.Join(", ", verdict.Lots[0].Heat) : "reference";
        return new()
        {
            SpaceAbove = 10,
            Height = AnswerRow * row,
            X = new()
            {
                Scale = scale.Axis,
                Min = scale.Min,
                Max = scale.Max,
                Grid = false,
                Ticks = scale.IsRatio ? AxisTicks.Ratio(scale.Min, scale.Max, scale.Low, scale.High) : null,
                Title = scale.IsRatio ? $"ratio {candidate} / {reference}, log scale" : $"difference {candidate} − {reference}, {verdict.Rule.Unit}",
            },
            Y = Axis.Rows(row),
            Items = items,
            Left = [new(LeftWidth, null, left)],
            Right = [new(RightWidth, scale.IsRatio ? $"ratio, {scale.NarrowLevel} range" : $"difference, {scale.NarrowLevel}", right)],
            RowRules = [.. Enumerable.Range(0, row + 1).Select(r => (double)r)],
        };
    }

    private static bool IsAgreed(Verdict verdict) => verdict.Rule.Standing == "locked";

    private static string Caption(Verdict verdict, VerdictScale scale)
    {
        string n = string.Join(" and ", verdict.Lots.Select(l => $"{l.N} of {string.Join(", ", l.Heat)}"));
        return $"{char.ToUpperInvariant(verdict.Rule.Property[0])}{verdict.Rule.Property[1..]}, {verdict.Stratum.Condition}; valid coupons {n}. Below the coupons their mean; bars thick {scale.NarrowLevel}, thin {scale.WideLevel}. Shade: the margin{(IsAgreed(verdict) ? " agreed before testing" : "")}, about the reference mean. {(scale.IsRatio ? "Log scale throughout." : "Linear scale.")}";
    }

    private static IReadOnlyList<KeyEntry> Key(Verdict verdict)
    {
        List<KeyEntry> key = [];
        if (verdict.Suspects.Count > 0)
            key.Add(new(MarkShape.Ring, "suspect, kept", MarkState.Suspect));
        if (verdict.LeftOut.Any(c => !c.Enters && c.State == "excluded"))
            key.Add(new(MarkShape.Ring, "excluded for a physical cause", MarkState.Excluded));
        if (verdict.LeftOut.Any(c => !c.Enters && c.State == "invalid"))
            key.Add(new(MarkShape.Ring, "invalid, not counted", MarkState.Invalid));
        if (verdict.Lots.Any(l => l.Coupons.Any(c => c.Bound is not null)))
            key.Add(new(MarkShape.Ring, "the true value lies beyond", MarkState.CensoredAbove));
        return key;
    }

    private static FigureData Data(Verdict verdict)
    {
        string unit = verdict.Rule.Unit;
        List<IReadOnlyList<string>> rows = [];
        foreach (Lot lot in verdict.Lots)
        {
            foreach (CouponPoint c in lot.Coupons)
                rows.Add([c.Heat, lot.Role, c.Coupon, (c.Bound switch { "above" => ">", "below" => "<", _ => "" }) + FigureLayout.Exact(c.Value), c.Hardness is { } h ? FigureLayout.Exact(h) : "", c.Load ?? "", c.Order is { } o ? FigureNumbers.Count(o) : ""]);
        }
        return new(["heat", "role", "coupon", $"{verdict.Rule.Property} [{unit}]", "hardness [HRC]", "load", "order"], rows);
    }
}
