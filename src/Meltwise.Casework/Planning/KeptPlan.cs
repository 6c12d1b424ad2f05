using System.Text.Json;
using System.Text.Json.Serialization;
using Meltwise.Casework.Asking;
using Meltwise.Casework.Recording;
using Meltwise.Domain;

namespace Meltwise.Casework.Planning;

/// <summary>The plan that an enquiry goes by: what will be tested, and what chance it has.</summary>
public sealed record KeptPlan
{
    /// <summary>Kind of the stored document.</summary>
    public const string Kind = "plan";

    /// <summary>Coupons in each heat, without spares; with a ladder those at each of its levels.</summary>
    public required int Coupons { get; init; }

    /// <summary>Heats a side.</summary>
    public required int Heats { get; init; }

    /// <summary>Furnace loads.</summary>
    public required int Loads { get; init; }

    /// <summary>Coupons that fit into a load; null when all fit.</summary>
    public int? LoadCapacity { get; init; }

    /// <summary>Spare coupons in each heat.</summary>
    public int Spares { get; init; }

    /// <summary>Coupons in each heat that a planned extension adds, treated with the first ones and kept.</summary>
    public int KeptForExtension { get; init; }

    /// <summary>Seed of the allocation.</summary>
    public required long Seed { get; init; }

    /// <summary>Estimand, by its code.</summary>
    public required string Estimand { get; init; }

    /// <summary>Question, by its code.</summary>
    public required string Question { get; init; }

    /// <summary>The margin as it is written.</summary>
    public required string Margin { get; init; }

    /// <summary>Hardness of the reference lot at the levels of a temper ladder, as it is written; null without one.</summary>
    public string? Ladder { get; init; }

    /// <summary>The same of the candidate.</summary>
    public string? LadderOfCandidate { get; init; }

    /// <summary>Levels of the ladder; 1 without one.</summary>
    [JsonIgnore]
    public int Levels => Ladder?.Split(';').Length ?? 1;

    /// <summary>Further primary properties with their margins, as they are written; null where the rule has one property.</summary>
    public IReadOnlyList<string>? Further { get; init; }

    /// <summary>Chance of the answer yes, of all primary properties together.</summary>
    public required double Yes { get; init; }

    /// <summary>Monte-Carlo standard error of that.</summary>
    public required double YesStandardError { get; init; }

    /// <summary>Truth at which the chance holds.</summary>
    public required double At { get; init; }

    /// <summary>Scatter within a heat that was planned with.</summary>
    public required double WithinHeatSd { get; init; }

    /// <summary>Where the numbers come from, and limits.</summary>
    public required IReadOnlyList<string> Notes { get; init; }

    /// <summary>Coupons of each heat to be made.</summary>
    [JsonIgnore]
    public int ToMake => (Coupons + Spares + KeptForExtension) * Levels;

    /// <summary>The plan of an enquiry; null when none is kept.</summary>
    public static KeptPlan? Find(IBench bench, string enquiry)
    {
        ArgumentNullException.ThrowIfNull(bench);
        return bench.FindDocument(enquiry, Kind) is { } document ? JsonSerializer.Deserialize(document.Json, KeptPlanJsonContext.Default.KeptPlan) : null;
    }

    internal string ToJson() => JsonSerializer.Serialize(this, KeptPlanJsonContext.Default.KeptPlan);
}

/// <summary>Keeps a plan with an enquiry. While its rule is open, the planned number of coupons goes into the rule.</summary>
public sealed class KeepPlan(IBench bench)
{
    /// <summary>Keeps it; a plan kept before is replaced and stays readable in the trail.</summary>
    public Outcome<Enquiry> Run(string enquiry, KeptPlan plan, Hand hand)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return EnquiryStep.On(bench, enquiry, hand, "plan kept", (e, now) =>
        {
            int perLot = plan.Heats * plan.Coupons * plan.Levels;
            List<Finding> findings = [];
            Enquiry after = e;
            if (e is { Rule: { } rule, Lock: null }) after = e with { Rule = rule with { PlannedCouponsPerLot = perLot } };
            else if (e.Rule is { PlannedCouponsPerLot: { } agreed } && agreed != perLot)
                findings.Add(Finding.Warning($"The locked rule plans {agreed} coupons a lot, this plan {perLot}. Amend the rule with a reason if the plan is to count."));
            return (after, findings, [new BenchChange.PutDocument(new(e.Name, KeptPlan.Kind, plan.ToJson(), now))]);
        });
    }
}

/// <summary>Generated serialisation of kept plans.</summary>
[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull)]
[JsonSerializable(typeof(KeptPlan))]
internal sealed partial class KeptPlanJsonContext : JsonSerializerContext;
