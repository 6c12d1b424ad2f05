using System.Globalization;
using Meltwise.Casework.Judging;
using Meltwise.Publishing.Figures;

namespace Meltwise.Cli.Terminal;

/// <summary>Prints a verdict for a person. Reads nothing but the verdict object.</summary>
internal sealed class VerdictPage(Verdict verdict, Paper paper)
{
    private const int LabelWidth = 22;
    private bool Logarithmic => verdict.Rule.Scale == "log";

    public void Print()
    {
        paper.Title(OutcomeWords.Of(verdict).Word + (OutcomeWords.Of(verdict).Qualifier is { Length: > 0 } q ? ": " + q : ""));
        paper.Text(verdict.Finding.Text);
        Properties();
        Questions();
        Lots();
        Ladder();
        Claims();
        Firmness();
        Coupons();
        Notes();
    }

    private void Properties()
    {
        if (PropertyLine.Of(verdict) is not { Count: > 0 } lines) return;
        paper.Section("Properties");
        paper.Table(["property", "role", "outcome", "estimate", "range", "margin", "p"],
            lines.Select(l => (IReadOnlyList<string>)[l.Property, l.Role, l.Outcome, l.Estimate, l.Range, l.Margin, l.P]), 3, 4, 5, 6);
        paper.Text(PropertyLine.Caption);
        foreach (OtherPropertyResult other in verdict.OtherProperties ?? [])
            if (other.Role == "secondary") paper.Item("  ", other.Sentence);
    }

    private void Questions()
    {
        (string Label, EstimandResult? Result)[] questions =
            [("A, as tested", verdict.AsTested), ("B, at equal hardness", verdict.EqualHardness), ("C, the two sources", verdict.Sources)];
        (string Label, string Interval, string Words, EstimandResult Result)[] rows =
            [.. questions.Where(q => q.Result is not null).Select(q => (q.Label, Interval(q.Result!), Words(q.Result!), q.Result!))];
        RatioChart? chart = Chart(rows);
        string levels = rows.FirstOrDefault(r => r.Result.Stands).Result is { Ratio: { } w, RatioForMargin: { } n } ? Invariant($" (thick {n.Level:P0}, thin {w.Level:P0})") : "";
        string of = verdict.OtherProperties is null ? "" : $" of {verdict.Rule.Property}";
        paper.Section(Logarithmic ? $"Ratio candidate / reference{of}{levels}" : $"Candidate less reference{of}, {verdict.Rule.Unit}");
        foreach ((string label, string interval, string words, EstimandResult result) in rows)
        {
            string own = label.StartsWith(Mark(verdict.Rule.Estimand)) ? "▸ " : "  ";
            string drawn = chart is not null && result.Stands ? chart.Draw(RatioChart.Row.Of(result, Logarithmic)) + "  " : "";
            paper.Line($"{own}{label,-LabelWidth}{drawn}{interval}{words}");
        }
        if (chart is not null) paper.Line(new string(' ', LabelWidth + 2) + chart.Axis());
        foreach ((string label, _, _, EstimandResult result) in rows)
            if (result is { Stands: false, Missing: { } needs }) paper.Item($"  {label[..1]}: ", needs);
    }

    private static string Words(EstimandResult result) => (result.Stands, result.Refused) switch
    {
        (true, _) => OutcomeWords.Of(result.Outcome!.Value).Short,
        (_, { } reason) => "no answer: " + OutcomeSigns.Words(reason),
        _ => "no answer",
    };

    private static char Mark(string estimand) => estimand switch { "equal-hardness" => 'B', "sources" => 'C', _ => 'A' };

    private RatioChart? Chart(IReadOnlyList<(string Label, string Interval, string Words, EstimandResult Result)> rows)
    {
        (double Low, double High)? margin = Logarithmic
            ? verdict.Rule is { MarginLow: { } low, MarginHigh: { } high } ? (low, high) : null
            : verdict.Rule.MarginAbs is { } plusMinus ? (-plusMinus, plusMinus) : null;
        if (margin is not { } m) return null;
        (string, string Interval, string Words, EstimandResult Result)[] standing = [.. rows.Where(r => r.Result.Stands)];
        // What stands behind the drawing decides how wide it may be, so that no line is broken.
        int behind = standing.Select(r => r.Interval.Length + r.Words.Length).DefaultIfEmpty().Max();
        RatioChart chart = new(m.Low, Logarithmic ? 1 : 0, m.High, Logarithmic, Math.Clamp(paper.Width - LabelWidth - 4 - behind, 14, 48));
        chart.Fit(standing.Select(r => RatioChart.Row.Of(r.Result, Logarithmic)).OfType<RatioChart.Row>());
        return chart;
    }

    private string Interval(EstimandResult result) => Logarithmic
        ? result.RatioForMargin is { } r ? Invariant($"{r.Estimate:0.00}  {r.Lower:0.00} to {r.Upper:0.00}  ") : ""
        : (result.DifferenceForMargin ?? result.Difference) is { } d ? Invariant($"{d.Estimate:0.00}  {d.Lower:0.00} to {d.Upper:0.00}  ") : "";

    private void Lots()
    {
        paper.Section($"Lots: {verdict.Rule.Property}, {verdict.Rule.Unit} ({verdict.Stratum.Condition})");
        paper.Table(["lot", "heat", "n", .. Logarithmic ? new[] { "geometric mean" } : [], "mean", "SD", "range", "HRC"],
            verdict.Lots.Select(l => (IReadOnlyList<string>)
            [
                (l.Role == "reference" ? "○ " : "◆ ") + l.Role, string.Join(", ", l.Heat), l.N.ToString(CultureInfo.InvariantCulture),
                .. Logarithmic ? new[] { Number(l.N == 0 ? null : l.GeometricMean ?? l.Mean) } : [], Number(l.N == 0 ? null : l.Mean), Number(l.Sd), l.Range.Count == 0 ? "unknown" : $"{Number(l.Range[0])} to {Number(l.Range[^1])}", l.HardnessMean is { } h ? Invariant($"{h:0.0}") : "unknown",
            ]), Logarithmic ? [2, 3, 4, 5, 6, 7] : [2, 3, 4, 5, 6]);
    }

    private void Ladder()
    {
        if (verdict.EqualHardness?.Ladder is not { } ladder) return;
        paper.Section("Temper ladder of the lots");
        paper.Table(["treatment", "lot", "heat", "n", "HRC", Logarithmic ? "geometric mean" : "mean"],
            ladder.Levels.Select(l => (IReadOnlyList<string>)[l.Treatment, (l.Role == "reference" ? "○ " : "◆ ") + l.Role, l.Heat, Invariant($"{l.N}"), Invariant($"{l.HardnessMean:0.0}"), Number(l.Mean)]), 3, 4, 5);
    }

    private void Claims()
    {
        if (verdict.Finding.MayClaim.Count > 0) paper.Section("May be claimed");
        foreach (string claim in verdict.Finding.MayClaim) paper.Item("− ", claim);
        if (verdict.Finding.MayNotClaim.Count > 0) paper.Section("May not be claimed");
        foreach (string claim in verdict.Finding.MayNotClaim) paper.Item("× ", claim);
    }

    private void Firmness()
    {
        if (verdict.Finding.Firmness is not { } firmness) return;
        paper.Section("How firm it is");
        paper.Text(firmness);
    }

    private void Coupons()
    {
        if (verdict.Suspects.Count > 0)
        {
            paper.Section("Suspect coupons: none is dropped by a test");
            paper.Table(["coupon", "lot", "value", "test", "statistic", "critical"],
                verdict.Suspects.Select(s => (IReadOnlyList<string>)[s.Coupon, s.Lot, Number(s.Value), s.Test, Invariant($"{s.Statistic:0.00}"), Invariant($"{s.CriticalValue:0.00}")]), 2, 4, 5);
        }
        if (verdict.LeftOut.Count == 0) return;
        paper.Section("Left out");
        paper.Table(["coupon", "lot", "value", "state", "cause"],
            verdict.LeftOut.Select(c => (IReadOnlyList<string>)[c.Coupon, c.Lot, Number(c.Value), c.State + (c.Stamp is { } stamp ? ", " + stamp : ""), c.Cause ?? "not given"]), 2);
    }

    private void Notes()
    {
        paper.Section("Method and limits");
        foreach (string note in verdict.Notes) paper.Item("  ", note);
        foreach (string note in verdict.AsTested?.Notes ?? []) paper.Item("A ", note);
        foreach (string note in verdict.EqualHardness?.Notes ?? []) paper.Item("B ", note);
        foreach (string note in verdict.Sources?.Notes ?? []) paper.Item("C ", note);
        paper.Blank();
        paper.Text($"meltwise {verdict.Reproduction.Version}, data {Short(verdict.Reproduction.DataDigest)}"
            + (verdict.Reproduction.HistoryDigest is { } history ? $", history {Short(history)}" : "")
            + (verdict.Reproduction.RuleDigest is { } rule ? $", rule {Short(rule)}" : "")
            + (verdict.Reproduction.Seed is { } seed ? Invariant($", seed {seed}") : "") + ". Relates only to the items tested.");
    }

    private static string Short(string digest) => digest.Length > 12 ? digest[..12] : digest;

    private static string Number(double? value) => value is { } v ? v.ToString(Math.Abs(v) >= 100 ? "0.0" : "0.00", CultureInfo.InvariantCulture) : "unknown";

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
