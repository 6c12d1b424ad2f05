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
}
