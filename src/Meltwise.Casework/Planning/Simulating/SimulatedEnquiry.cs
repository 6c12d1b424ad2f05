using Meltwise.Casework.Judging;
using Meltwise.Statistics.Resampling;

namespace Meltwise.Casework.Planning;

/// <summary>One simulated enquiry after another, judged under every plan and truth of a request, all primary properties together as the verdict joins them. One thread uses one of these.</summary>
internal sealed class SimulatedEnquiry
{
    /// <summary>Counts kept of each plan and truth: nine outcomes, three answers, extensions, differences shown in at least one property, reasons of no verdict.</summary>
    public const int Kinds = FirstReason + Reasons, FirstAnswer = 9, Extended = 12, Differs = 13, FirstReason = 14;

    /// <summary>Reasons of no verdict.</summary>
    public const int Reasons = (int)Reason.InstrumentNotVerified + 1;

    private readonly PlanRequest _plan;
    private readonly PlannedProperties _properties;
    private readonly int _plans, _drawsHardness;
    private readonly SimulatedProperty[] _each;
    private readonly SimulatedFinding[] _found;
    private readonly Outcome[] _outcomes;
    private readonly Answer[] _answers;

    /// <param name="plan">The request.</param>
    /// <param name="properties">Its properties.</param>
    /// <param name="designs">Plans of each property, in the same order.</param>
    /// <param name="truths">Truths of the first property.</param>
    public SimulatedEnquiry(PlanRequest plan, PlannedProperties properties, IReadOnlyList<IReadOnlyList<PlanDesign>> designs, IReadOnlyList<double> truths)
    {
        (_plan, _properties, _plans) = (plan, properties, designs[0].Count);
        int count = properties.Requests.Count;
        _drawsHardness = properties.Requests.ToList().FindIndex(r => r.ReadsHardness);
        SimulatedHardness? hardness = _drawsHardness < 0 ? null : new(designs[0].Max(d => d.Groups), designs[0].Max(d => d.Coupons + d.Added));
        _each = [.. properties.Requests.Select((r, j) => new SimulatedProperty(r, designs[j], j == 0 ? truths : r.Truths,
            hardness is null || !r.ReadsHardness && j != properties.SharedHardness ? null : (hardness, j == properties.SharedHardness, j == _drawsHardness), count))];
        (_found, _outcomes, _answers) = (new SimulatedFinding[count], new Outcome[count], new Answer[count]);
    }

    /// <summary>Numbers that are kept of each plan and truth: of all properties together, and with several of each by itself.</summary>
    /// <param name="properties">Number of properties.</param>
    public static int Width(int properties) => Kinds * (properties == 1 ? 1 : 1 + properties);

    /// <summary>The properties, for what is read in the last replicate.</summary>
    internal IReadOnlyList<SimulatedProperty> Properties => _each;

    /// <summary>Draws one enquiry and adds its outcomes to the counts.</summary>
    public void Replicate(ref RandomStream random, ref RandomStream ofFlaws, Span<long> counts)
    {
        foreach (SimulatedProperty property in _each) property.Draw(ref random, ref ofFlaws);
        if (_each.Length > 1) Join();
        int truths = _each[0].Truths, width = Width(_each.Length);
        for (int d = 0; d < _plans; d++)
        {
            foreach (SimulatedProperty property in _each) property.Turn();
            for (int t = 0; t < truths; t++) Judge(d, t, counts.Slice((d * truths + t) * width, width));
        }
    }

    private void Join()
    {
        SimulatedCoupons.Correlate(_coupons ??= [.. _each.Select(p => p.Coupons)], _properties.Factor);
        if (_drawsHardness < 0) return;
        for (int j = 0; j < _each.Length; j++)
            if (j != _drawsHardness && (j == _properties.SharedHardness || _properties.Requests[j].ReadsHardness)) _each[j].ShareHardness(_each[_drawsHardness].Truth, j == _properties.SharedHardness);
    }

    private SimulatedCoupons[]? _coupons;

    private void Judge(int d, int t, Span<long> row)
    {
        (Outcome outcome, Answer answer, bool differs) = Look(d, t, extended: false);
        if (_plan.Extension is not null && outcome is Outcome.Inconclusive or Outcome.DifferentOpen)
        {
            row[Extended]++;
            (outcome, answer, differs) = Look(d, t, extended: true);
        }
        Count(row, outcome, answer, differs, outcome == Outcome.NoVerdict ? WhyNone() : null);
        if (_each.Length == 1) return;
        for (int j = 0; j < _each.Length; j++) Count(row.Slice(Kinds * (j + 1), Kinds), _found[j].Outcome, _found[j].Answer, Holm(j), _found[j].Refused);
    }

    /// <summary>The reason of the first property that has no outcome, as the verdict gives it.</summary>
    private Reason? WhyNone()
    {
        foreach (SimulatedFinding found in _found)
            if (found.Refused is { } reason) return reason;
        return null;
    }

    private static void Count(Span<long> row, Outcome outcome, Answer answer, bool differs, Reason? refused)
    {
        if (refused is { } reason) row[FirstReason + (int)reason]++;
        row[(int)outcome]++;
        if (outcome != Outcome.NoVerdict) row[FirstAnswer + (int)answer]++;
        if (differs) row[Differs]++;
    }

    private (Outcome Outcome, Answer Answer, bool Differs) Look(int d, int t, bool extended)
    {
        bool differs = false;
        for (int j = 0; j < _each.Length; j++)
        {
            SimulatedFinding found = _each[j].Find(d, j == 0 ? t : 0, extended);
            (_found[j], _outcomes[j], _answers[j]) = (found, found.Outcome, found.Answer);
            differs |= found.DiffersAmong >= _each.Length;
        }
        return _each.Length == 1 ? (_outcomes[0], _answers[0], differs)
            : (JointDecision.OutcomeOf(_outcomes, differs), JointDecision.AnswerTo(_plan.Question, _outcomes, _answers, differs), differs);
    }

    /// <summary>Holm's step-down test: the properties that differ most first, each against the error rate over the number that is left.</summary>
    private bool Holm(int property)
    {
        int own = _found[property].DiffersAmong, left = _each.Length;
        if (own == 0) return false;
        for (int rank = 0; rank < _found.Length; rank++, left--)
        {
            // The property of this rank passes where at least rank + 1 properties would pass its threshold.
            int pass = 0;
            foreach (SimulatedFinding f in _found)
                if (f.DiffersAmong >= left) pass++;
            if (pass <= rank) return false;
            if (own >= left) return true;
        }
        return false;
    }
}
