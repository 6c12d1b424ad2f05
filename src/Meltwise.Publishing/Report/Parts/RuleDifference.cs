using System.Globalization;
using Meltwise.Domain;
using Meltwise.Publishing.Figures;

namespace Meltwise.Publishing.Report.Parts;

/// <summary>What differs between two rules, in words.</summary>
internal static class RuleDifference
{
    public static IEnumerable<(string Name, string Before, string After)> Of(DecisionRule was, DecisionRule became)
    {
        foreach (((string name, string before), (_, string after)) in Lines(was).Zip(Lines(became)))
        {
            if (before != after)
                yield return (name, before, after);
        }
    }

    private static IEnumerable<(string Name, string Text)> Lines(DecisionRule r)
    {
        yield return ("property", r.Property);
        yield return ("margin", Margin(r.Margin));
        yield return ("question", r.Question.ToString());
        yield return ("judged", r.Estimand.ToString());
        yield return ("scatter", r.Scatter.ToString());
        yield return ("risk", FigureNumbers.Level(r.Alpha));
        yield return ("look", r.Look?.ToString(CultureInfo.InvariantCulture) ?? "no extension");
        yield return ("scale", r.Scale?.ToString() ?? "as shipped");
        yield return ("good direction", r.Better?.ToString() ?? "as shipped");
        yield return ("hardness between sessions", r.SessionSdHrc is { } sd ? $"{sd.ToString(CultureInfo.InvariantCulture)} HRC{(r.SessionSdFrom is { } from ? $", from {from}" : "")}" : "not known");
        yield return ("separate sessions", r.SeparateSessions ? "yes" : "no");
        yield return ("slope", r.LadderSlope ? "of a temper ladder" : "between heats");
        yield return ("trend of", r.TrendFamily ?? "the same grade");
        yield return ("further primary properties", Others(r.FurtherPrimaries));
        yield return ("secondary properties", Others(r.Secondaries));
        yield return ("coupons a lot", r.PlannedCouponsPerLot?.ToString(CultureInfo.InvariantCulture) ?? "not planned");
    }

    private static string Others(IReadOnlyList<OtherProperty>? others) => others is { Count: > 0 } ? string.Join("; ", others.Select(o => $"{o.Property} {Margin(o.Margin)}")) : "none";

    private static string Margin(Margin margin) => margin switch
    {
        Domain.Margin.Ratio m => $"{FigureNumbers.Ratio(m.Low)} to {FigureNumbers.Ratio(m.High)}",
        Domain.Margin.Absolute m => $"±{FigureNumbers.Value(m.PlusMinus)} {m.Unit}",
        Domain.Margin.InHardness m => $"{FigureNumbers.Value(m.Hrc)} HRC",
        _ => throw new System.Diagnostics.UnreachableException(),
    };
}
