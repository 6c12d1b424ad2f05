using Meltwise.Casework.Judging;
using Meltwise.Domain;

namespace Meltwise.Casework.Planning;

/// <summary>Counts of simulated enquiries turned into the rows of a planning table.</summary>
/// <param name="request">The request.</param>
/// <param name="properties">Its properties.</param>
/// <param name="designs">Plans of each property.</param>
internal sealed class PlanRows(PlanRequest request, PlannedProperties properties, IReadOnlyList<IReadOnlyList<PlanDesign>> designs)
{
    /// <summary>The row of a plan and truth.</summary>
    /// <param name="d">The plan.</param>
    /// <param name="truth">True ratio or difference of the first property.</param>
    /// <param name="counts">What was counted.</param>
    /// <param name="sound">The same without flaws; empty where none are reckoned with.</param>
    public PlanRow Of(int d, double truth, ReadOnlySpan<long> counts, ReadOnlySpan<long> sound)
    {
        PlanRequest r = request;
        PlanDesign design = designs[0][d];
        double n = r.Replicates;
        Dictionary<string, double> odds = Odds(r, counts), errors = odds.ToDictionary(o => o.Key, o => Math.Sqrt(o.Value * (1 - o.Value) / n)), answers = Answers(counts);
        bool several = properties.Requests.Count > 1;
        double yes = answers["yes"], extended = counts[SimulatedEnquiry.Extended] / n;
        return new()
        {
            Coupons = design.Coupons,
            Heats = design.Heats,
            Loads = design.Loads,
            Estimand = design.Estimand.Code(),
            TrueRatio = truth,
            Odds = odds,
            StandardError = errors,
            Answers = answers,
            YesStandardError = Math.Sqrt(yes * (1 - yes) / n),
            YesByTheory = Theory(d, truth),
            YesWithoutFlaws = sound.IsEmpty ? null : sound[SimulatedEnquiry.FirstAnswer] / n,
            Agreement = (counts[(int)Outcome.Equivalent] + counts[(int)Outcome.EquivalentDetectable]) / n,
            SmallestDetectable = PlanTheory.SmallestDetectable(properties.Requests[0], design),
            ChanceOfExtension = r.Extension is null ? null : extended,
            Cost = design.Cost(r, extended),
            Refusals = Refusals(counts),
            DifferentInAtLeastOne = several ? counts[SimulatedEnquiry.Differs] / n : null,
            Properties = several ? Each(d, truth, counts) : null,
        };
    }

    /// <summary>Why none of the plans can answer the question; null when one can.</summary>
    public string? CannotAnswer(IReadOnlyList<PlanRow> rows)
    {
        for (int j = 0; j < properties.Requests.Count; j++)
        {
            double best = rows.Min(row => row.Properties?[j].SmallestDetectable ?? row.SmallestDetectable);
            if (PlanTheory.CannotAnswer(properties.Requests[j], best, properties.Requests.Count > 1) is { } cannot) return cannot;
        }
        return null;
    }

    private List<PropertyOdds> Each(int d, double truth, ReadOnlySpan<long> counts)
    {
        List<PropertyOdds> each = [];
        for (int j = 0; j < properties.Requests.Count; j++)
        {
            PlanRequest own = properties.Requests[j];
            ReadOnlySpan<long> of = counts.Slice((j + 1) * SimulatedEnquiry.Kinds, SimulatedEnquiry.Kinds);
            double at = j == 0 ? truth : own.Truths[0];
            each.Add(new()
            {
                Property = own.Property,
                Estimand = designs[j][d].Estimand.Code(),
                TrueRatio = at,
                Odds = Odds(own, of),
                Answers = Answers(of),
                YesByTheory = PlanTheory.Yes(own, designs[j][d], at),
                DifferenceClaimed = of[SimulatedEnquiry.Differs] / (double)request.Replicates,
                SmallestDetectable = PlanTheory.SmallestDetectable(own, designs[j][d]),
            });
        }
        return each;
    }

    /// <summary>Chance of yes in closed form; of several properties where they are independent: the product of the single ones, or for a difference that of at least one after the correction.</summary>
    private double? Theory(int d, double truth)
    {
        int count = properties.Requests.Count;
        if (!properties.AreIndependent) return null;
        double all = 1;
        for (int j = 0; j < count; j++)
        {
            PlanRequest own = properties.Requests[j];
            bool difference = own.Question == Question.Difference;
            if (PlanTheory.Yes(difference ? own with { Alpha = own.Alpha / count } : own, designs[j][d], j == 0 ? truth : own.Truths[0]) is not { } yes) return null;
            all *= difference ? 1 - yes : yes;
        }
        return request.Question == Question.Difference ? 1 - all : all;
    }

    private Dictionary<string, double> Odds(PlanRequest r, ReadOnlySpan<long> counts)
    {
        Dictionary<string, double> odds = [];
        for (int k = 0; k < SimulatedEnquiry.FirstAnswer; k++)
            if (counts[k] > 0 || Possible(r, (Outcome)k)) odds.Add(((Outcome)k).Code(), counts[k] / (double)request.Replicates);
        return odds;
    }

    private Dictionary<string, double>? Refusals(ReadOnlySpan<long> counts)
    {
        if (counts[(int)Outcome.NoVerdict] == 0) return null;
        Dictionary<string, double> refusals = [];
        for (int k = 0; k < SimulatedEnquiry.Reasons; k++)
            if (counts[SimulatedEnquiry.FirstReason + k] is > 0 and var count) refusals.Add(((Reason)k).Code(), count / (double)request.Replicates);
        return refusals;
    }

    private Dictionary<string, double> Answers(ReadOnlySpan<long> counts)
    {
        Dictionary<string, double> answers = [];
        foreach (Answer answer in (Answer[])[Answer.Yes, Answer.No, Answer.Open]) answers.Add(answer.Code(), counts[SimulatedEnquiry.FirstAnswer + (int)answer] / (double)request.Replicates);
        return answers;
    }

    private static bool Possible(PlanRequest r, Outcome outcome) => outcome switch
    {
        Outcome.Better or Outcome.Worse => r.HigherIsBetter is not null,
        Outcome.Higher or Outcome.Lower => r.HigherIsBetter is null,
        Outcome.NoVerdict => false,
        _ => true,
    };
}
