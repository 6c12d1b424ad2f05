using Meltwise.Metallurgy.Equilibrium;
using Meltwise.Metallurgy.Hardness;
using Meltwise.Metallurgy.Sources;
using Meltwise.Metallurgy.Tempering;
using Meltwise.Metallurgy.Transformation;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>Explains a hardness difference of two heats by their chemistry: the whole chain, in one call.</summary>
/// <remarks>
/// <para><b>Method.</b> <see cref="HeatDifference"/> for the distributions, <see cref="ShapleyContributions"/> for the elements, <see cref="ExplanationRule"/> for the finding.</para>
/// <para><b>Limits.</b> One treatment for both heats; equilibrium at the end of the soak unless said otherwise; no segregation of ingot material; secondary hardening only
/// by the published curve of a grade that holds both (<see cref="TemperShift"/>).</para>
/// </remarks>
public static class Explainer
{
    /// <summary>Computes the explanation.</summary>
    /// <param name="reference">Chemistry of the reference.</param>
    /// <param name="candidate">Chemistry of the candidate.</param>
    /// <param name="treatment">The treatment both had.</param>
    /// <param name="observed">The observed difference, or null.</param>
    /// <param name="options">How to run; null for the defaults.</param>
    /// <param name="progress">Told the share of the draws made, 0 to 1; the contributions of the elements come after it.</param>
    /// <param name="cancel">Stops the draws.</param>
    /// <exception cref="ChainRefusedException">A heat without carbon, or more than one draw in a hundred is outside the models.</exception>
    /// <exception cref="EquilibriumRefusedException">Steel or temperature outside the parameter set.</exception>
    /// <exception cref="OperationCanceledException">Stopped by <paramref name="cancel"/>.</exception>
    /// <exception cref="ArgumentException">Fewer than 100 draws, or a treatment without a cooling temperature.</exception>
    public static ChemistryExplanation Explain(HeatChemistry reference, HeatChemistry candidate, HardeningTreatment treatment,
        ObservedHardnessDifference? observed = null, ExplanationOptions? options = null, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(reference);
        ArgumentNullException.ThrowIfNull(candidate);
        ArgumentNullException.ThrowIfNull(treatment);
        options ??= new();
        Require(reference, candidate, options);

        ChemistryDraws chemistry = new(reference, candidate);
        TemperShift temper = TemperShift.Of(treatment, [chemistry.Reference, chemistry.Candidate], options.Soak);
        HardnessChain chain = new(treatment, temper.Hrc);
        HeatDifference monteCarlo = new(chemistry, treatment, chain, options.Soak, options.Spread, options.Draws);
        monteCarlo.Run(options.Seed, options.Threads ?? Environment.ProcessorCount, progress, cancel);
        string? failed = DrawSummary.FailedDraws(monteCarlo.ReferenceStates, monteCarlo.CandidateStates);

        ChainIntervals difference = DrawSummary.Difference(monteCarlo.CandidateStates, monteCarlo.ReferenceStates, options.Level);
        (Interval? share, Interval? left) = Against(observed, monteCarlo, options);
        IReadOnlyList<ElementContribution> contributions = ShapleyContributions.Of(chemistry, chain,
            options.Soak.Near(chemistry.ReferenceWithAllElements, treatment.HardeningTemperatureK), options.Level, cancel);

        double chainError = Math.Sqrt(2) * (options.Calibration?.ScatterHrc ?? Math.Max(ExplanationRule.ChainErrorWithoutHistoryHrc, temper.ErrorHrc));
        ExplanationFinding finding = ExplanationRule.Finding(difference.HardnessHrc, observed, left, chainError);
        return new(reference.Name, candidate.Name, treatment,
            DrawSummary.Of(monteCarlo.ReferenceStates, options.Level), DrawSummary.Of(monteCarlo.CandidateStates, options.Level), difference, contributions,
            observed, finding is ExplanationFinding.NothingToExplain ? null : share, left, chainError,
            finding, ExplanationRule.StrengthOf(finding, temper, options.Calibration is not null),
            ExplanationRule.Sentence((candidate.Name, reference.Name), finding, difference.HardnessHrc, observed, left, chainError),
            Notes(reference, candidate, treatment, temper, options, chemistry, [failed, ShapleyContributions.Fault(contributions)]), AllSources(temper), options.Draws, options.Seed)
        {
            HardnessMeaning = temper.Meaning,
            Calibration = options.Calibration,
            ParameterCitations = ParameterCitation.Of(EquilibriumSolver.For(EquilibriumSoak.Composition(chemistry.ReferenceWithAllElements)).Sources),
        };
    }

    private static void Require(HeatChemistry reference, HeatChemistry candidate, ExplanationOptions options)
    {
        if (options.Draws < 100) throw new ArgumentException($"{options.Draws} draws are too few for an interval; take 100 or more.", nameof(options));
        foreach (HeatChemistry heat in (HeatChemistry[])[reference, candidate])
            if (heat["C"] is null) throw new ChainRefusedException($"{heat.Name} has no carbon result. Without carbon nothing can be said of hardness.");
    }

    private static (Interval? Share, Interval? Left) Against(ObservedHardnessDifference? observed, HeatDifference monteCarlo, ExplanationOptions options)
    {
        if (observed is not { } seen) return (null, null);
        double[] share = new double[options.Draws], left = new double[options.Draws];
        for (int i = 0; i < options.Draws; i++)
        {
            // Measurement errors get a stream of their own, so that asking about an observation changes no chemistry draw.
            DrawStream stream = new(~options.Seed, i);
            double measured = seen.Hrc + seen.StandardUncertainty * stream.NextNormal();
            double computed = monteCarlo.CandidateStates[i].HardnessHrc - monteCarlo.ReferenceStates[i].HardnessHrc;
            share[i] = computed / measured;
            left[i] = measured - computed;
        }
        return (seen.Hrc == 0 ? null : DrawSummary.Of(share, options.Level), DrawSummary.Of(left, options.Level));
    }

    private static List<string> Notes(HeatChemistry reference, HeatChemistry candidate, HardeningTreatment treatment, TemperShift temper, ExplanationOptions options,
        ChemistryDraws chemistry, IReadOnlyList<string?> faults)
    {
        List<string> notes = [options.Soak.Words, .. temper.Notes,
            "Differences are firmer than absolute values: the models' errors are drawn once for both heats. One treatment for both is assumed.",
            "Contributions by Shapley values at the measured contents; their intervals hold the uncertainty of the analysis only (first order)."];
        if (options.Calibration is { } calibration) notes.Add(calibration.Notes[0]);
        else notes.Add($"No own cases of this chain were given: its error is taken as {ExplanationRule.ChainErrorWithoutHistoryHrc:0} HRC for one heat.");
        foreach (HeatChemistry heat in (HeatChemistry[])[reference, candidate])
        {
            notes.AddRange(ChemistrySelection.NotesOf(heat).Select(n => $"{heat.Name}: {n}"));
            string[] byDefault = [.. heat.Contents.Where(c => c.UncertaintyIsDefault).Select(c => c.Element)];
            if (byDefault.Length > 0) notes.Add($"{heat.Name}: uncertainty of {string.Join(", ", byDefault)} by default for the method (from memory); give the laboratory's own.");
            if (heat.LeftOut.Count > 0) notes.Add($"{heat.Name}: {string.Join(", ", heat.LeftOut)} measured but not part of the chain.");
        }
        if (!reference.Contents.Any(r => candidate[r.Element] is { } c && r.SharesBiasWith(c)))
            notes.Add("No element is known to be measured by one method in one laboratory for both heats: no bias cancels, and the intervals are wider for it.");
        notes.AddRange(chemistry.Notes);
        notes.AddRange(options.Soak.WarningsFor(chemistry.Reference, treatment.HardeningTemperatureK).Select(w => $"{reference.Name}: {w}"));
        notes.AddRange(options.Soak.WarningsFor(chemistry.Candidate, treatment.HardeningTemperatureK).Select(w => $"{candidate.Name}: {w}"));
        notes.AddRange(faults.OfType<string>());
        return notes;
    }

    private static List<Source> AllSources(TemperShift temper) =>
    [
        new($"Equilibrium: parameter set {ParameterSet.ToolSteel.Id}, every parameter with its citation", SourceStatus.Collection),
        .. MartensiteStartFormulas.ForToolSteel.Select(f => f.Source).Distinct(), KoistinenMarburger.Source,
        .. MartensiteHardness.Sources, .. QuenchedHardness.Sources, HardnessConversion.Source, .. temper.Sources,
        AnalyticalUncertainty.Source, ChemistrySelection.Source, .. ChainErrorSpread.Sources,
    ];
}
