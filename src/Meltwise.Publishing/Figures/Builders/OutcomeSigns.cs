using Meltwise.Casework.Judging;

namespace Meltwise.Publishing.Figures;

/// <summary>Sign of every outcome and its words where room is scarce.</summary>
public static class OutcomeSigns
{
    /// <summary>The word.</summary>
    public static string Word(Outcome outcome) => outcome switch
    {
        Outcome.Equivalent or Outcome.EquivalentDetectable => "Equivalent",
        Outcome.Better => "Better",
        Outcome.Worse => "Worse",
        Outcome.Higher => "Higher",
        Outcome.Lower => "Lower",
        Outcome.DifferentOpen => "Different",
        Outcome.Inconclusive => "Inconclusive",
        _ => "No verdict",
    };

    /// <summary>What qualifies it.</summary>
    public static string Qualifier(Outcome outcome) => outcome switch
    {
        Outcome.Equivalent => "no difference detected",
        Outcome.EquivalentDetectable => "real but immaterial",
        Outcome.Better or Outcome.Worse or Outcome.Higher or Outcome.Lower => "beyond the agreed margin",
        Outcome.DifferentOpen => "size not settled",
        Outcome.Inconclusive => "neither shown",
        _ => "not a valid comparison",
    };

    /// <summary>The sign.</summary>
    public static OutcomeSign Sign(Outcome outcome) => outcome switch
    {
        Outcome.Equivalent => OutcomeSign.Centred,
        Outcome.EquivalentDetectable => OutcomeSign.OffCentre,
        Outcome.Better or Outcome.Worse or Outcome.Higher or Outcome.Lower => OutcomeSign.Outside,
        Outcome.DifferentOpen => OutcomeSign.OnEdge,
        Outcome.Inconclusive => OutcomeSign.Wider,
        _ => OutcomeSign.Empty,
    };

    /// <summary>A reason in a few words.</summary>
    public static string Words(Reason reason) => reason switch
    {
        Reason.StrataDiffer => "the lots are not of one kind",
        Reason.TooFew => "too few coupons",
        Reason.ZeroScatter => "all readings of a lot are equal",
        Reason.ConfoundedLoads => "no load holds both lots",
        Reason.TooManyCensored => "too many bounds among the readings",
        Reason.NoHistory => "no matching history",
        Reason.NoHardness => "hardness is missing",
        Reason.MixedHardnessScales => "hardness on different scales",
        Reason.TooFewHeats => "too few heats for a slope",
        Reason.HardnessSpreadTooSmall => "heats too alike in hardness",
        Reason.OutsideTheTrend => "a lot lies outside the trend",
        Reason.MarginNotResolved => "the margin in hardness is not resolved",
        Reason.HeatToHeatScatterUnknown => "scatter among heats unknown",
        Reason.SourcesNotNamed => "sources are not named",
        Reason.OneSource => "both lots from one source",
        _ => "instrument not verified",
    };
}
