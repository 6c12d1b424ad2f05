using System.Globalization;
using Meltwise.Casework.Asking;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Web.Enquiries;

/// <summary>The lines on which a rule is written.</summary>
public sealed class RuleForm
{
    public string? Property { get; set; }

    public string? Margin { get; set; }

    public Question Question { get; set; }

    public Estimand Estimand { get; set; }

    public ScatterChoice Scatter { get; set; }

    public bool LadderSlope { get; set; }

    public bool Extension { get; set; }

    public string? Planned { get; set; }

    public string? SessionSd { get; set; }

    /// <summary>Ticked to take the scatter that the bench's own checks give, in place of what is typed.</summary>
    public bool TakeOwn { get; set; }

    public bool SeparateSessions { get; set; }

    public string? TrendFamily { get; set; }

    public string? Reason { get; set; }

    /// <summary>Other properties: those of the rule, and empty lines to add some.</summary>
    public List<OtherPropertyLine> Others { get; set; } = [];

    /// <summary>The form filled with a rule, or with the usual choices.</summary>
    public static RuleForm Of(DecisionRule? rule) => rule is null
        ? new() { Property = PropertyTable.ImpactEnergy.Name, Margin = "25%", Others = OtherPropertyLine.Of(null) }
        : new()
        {
            Property = rule.Property,
            Margin = MarginText.Write(rule.Margin),
            Question = rule.Question,
            Estimand = rule.Estimand,
            Scatter = rule.Scatter,
            LadderSlope = rule.LadderSlope,
            Extension = rule.Look is not null,
            Planned = rule.PlannedCouponsPerLot?.ToString(CultureInfo.InvariantCulture),
            SessionSd = rule.SessionSdHrc?.ToString(CultureInfo.InvariantCulture),
            SeparateSessions = rule.SeparateSessions,
            TrendFamily = rule.TrendFamily,
            Others = OtherPropertyLine.Of(rule),
        };

    /// <summary>The rule, or what is wrong with the lines.</summary>
    /// <param name="before">The rule as it stood; what the form does not show is kept from it.</param>
    /// <param name="own">What the bench's own checks tell of the scatter between hardness sessions.</param>
    public (DecisionRule? Rule, string? Fault) Read(DecisionRule? before, SessionScatter? own)
    {
        if (PropertyTable.Find(Property ?? "") is not { } property)
        {
            return (null, $"“{Property}” is not a property of the shipped table. Nothing was stored.");
        }

        if (!MarginText.TryRead(Margin ?? "", property, out Margin? margin, out string fault))
        {
            return (null, fault + " Nothing was stored.");
        }

        if (!TryCount(Planned, out int? planned))
        {
            return (null, "The planned number of coupons a lot is a whole number from 1, or left empty. Nothing was stored.");
        }

        if (!TrySd(SessionSd, out double? sessionSd))
        {
            return (null, "The scatter between hardness sessions is a number of HRC, 0 or more, or left empty. Nothing was stored.");
        }

        if (TakeOwn && own?.Offered is null)
        {
            return (null, $"The bench’s own checks do not tell the scatter between sessions{(own is null ? "" : $": {own.Missing}")}. Nothing was stored.");
        }

        (IReadOnlyList<OtherProperty>? primaries, IReadOnlyList<OtherProperty>? secondaries, string? otherFault) = OtherPropertyLine.Read(Others, before);
        if (otherFault is not null)
        {
            return (null, otherFault + " Nothing was stored.");
        }

        DecisionRule start = before ?? new DecisionRule { Property = property.Name, Margin = margin! };
        return (start with
        {
            Property = property.Name,
            Margin = margin!,
            Question = Question,
            Estimand = Estimand,
            Scatter = Scatter,
            LadderSlope = LadderSlope,
            Look = Extension ? before?.Look ?? 1 : null,
            PlannedCouponsPerLot = planned,
            SessionSdHrc = TakeOwn ? own!.Offered : sessionSd,
            SessionSdFrom = TakeOwn ? own!.Origin : sessionSd == before?.SessionSdHrc ? before?.SessionSdFrom : null,
            SeparateSessions = SeparateSessions,
            TrendFamily = string.IsNullOrWhiteSpace(TrendFamily) ? null : TrendFamily.Trim(),
            FurtherPrimaries = primaries,
            Secondaries = secondaries,
        }, null);
    }

    private static bool TryCount(string? text, out int? count)
    {
        count = null;
        if (string.IsNullOrWhiteSpace(text))
        {
            return true;
        }

        bool good = int.TryParse(text.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out int value) && value is >= 1 and <= 10_000;
        count = good ? value : null;
        return good;
    }

    private static bool TrySd(string? text, out double? sd)
    {
        sd = null;
        if (string.IsNullOrWhiteSpace(text))
        {
            return true;
        }

        bool good = double.TryParse(text.Trim().Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && value is >= 0 and < 10;
        sd = good ? value : null;
        return good;
    }
}
