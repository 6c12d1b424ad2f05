using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Asking;

/// <summary>Stamps that an enquiry has reached a stage. A stamp once given stays.</summary>
public sealed class ReachStage(IBench bench)
{
    /// <summary>Stamps the stage.</summary>
    public Outcome<Enquiry> Run(string enquiry, EnquiryStage stage, Hand hand) => EnquiryStep.On(bench, enquiry, hand, $"stage {stage.ToString().ToLowerInvariant()}", (e, now) =>
    {
        if (e.StagesUtc.ContainsKey(stage)) return EnquiryStep.Against($"{e.Name} has reached \"{Say(stage)}\" before; the first stamp stays.");
        EnquiryStage[] missing = [.. Enum.GetValues<EnquiryStage>().Where(s => s < stage && !e.StagesUtc.ContainsKey(s))];
        Finding[] findings = missing.Length == 0 ? [] : [Finding.Warning($"{e.Name} has no stamp for {string.Join(", ", missing.Select(m => $"\"{Say(m)}\""))}.")];
        return (e with { StagesUtc = With(e, stage, now) }, findings);
    });

    /// <summary>The stamps with one more; an earlier stamp of the same stage stays.</summary>
    internal static Dictionary<EnquiryStage, DateTime> With(Enquiry e, EnquiryStage stage, DateTime at)
    {
        Dictionary<EnquiryStage, DateTime> stages = new(e.StagesUtc);
        stages.TryAdd(stage, at);
        return stages;
    }

    private static string Say(EnquiryStage stage) => stage.ToString().ToLowerInvariant();
}
