namespace Meltwise.Casework.Planning;

/// <summary>Words of a plan that terminal, page and JSON share.</summary>
public static class PlanWords
{
    /// <summary>What an estimand answers for.</summary>
    /// <param name="estimand">Its code.</param>
    public static string AnswersFor(string estimand) => estimand switch
    {
        "equal-hardness" => "for these lots at equal hardness",
        "sources" => "for the two sources in general",
        _ => "for these lots as tested",
    };

    /// <summary>Why an enquiry would end without a verdict, in a few words.</summary>
    /// <param name="reason">Its code.</param>
    public static string Refused(string reason) => reason switch
    {
        "strata-differ" => "lines not parallel, or lots of different treatment",
        "outside-the-trend" => "the ladders do not overlap in hardness",
        "hardness-spread-too-small" => "levels differ hardly more than the error of hardness",
        "margin-not-resolved" => "slope not shown to be below 0",
        "too-few" => "too few coupons",
        "heat-to-heat-scatter-unknown" => "heat-to-heat scatter unknown",
        _ => reason,
    };
}
