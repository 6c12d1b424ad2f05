using Meltwise.Metallurgy.Composition;

namespace Meltwise.Metallurgy.Explanation;

/// <summary>Draws the true chemistry of two heats from what was measured, with the bias they share drawn once.</summary>
/// <remarks>
/// <para><b>Model.</b> true = measured + repeatability error + bias, each normal. The bias of a method is one draw for both heats when both were measured by
/// the same method in the same laboratory, else one draw each. A content below a limit is any value from 0 to the limit, drawn for each heat. Contents
/// never fall below 0.</para>
/// <para><b>Measured in one heat only.</b> The other is taken to have the same content, draw by draw, so that the element explains nothing; a composition
/// typed in whole has none of what it does not list.</para>
/// </remarks>
internal sealed class ChemistryDraws
{
    private readonly Pair[] _pairs;

    public ChemistryDraws(HeatChemistry reference, HeatChemistry candidate)
    {
        List<Pair> pairs = [];
        List<string> notes = [];
        foreach (AlloyElement e in AlloyContent.Elements)
        {
            ElementContent? r = reference[e.ToString()], c = candidate[e.ToString()];
            if (r is null && c is null) continue;
            bool copied = (r is null && !reference.IsWhole) || (c is null && !candidate.IsWhole);
            if (copied) notes.Add($"{e} was measured in {(r is null ? candidate : reference).Name} only: taken as equal in both, so that it explains nothing.");
            pairs.Add(new(e, r, c, copied, r is not null && c is not null && r.SharesBiasWith(c)));
        }
        _pairs = [.. pairs];
        Notes = notes;
        Reference = Nominal(p => p.Reference ?? (p.Copied ? p.Candidate : null));
        Candidate = Nominal(p => p.Candidate ?? (p.Copied ? p.Reference : null));
    }

    /// <summary>Measured contents of the reference.</summary>
    public AlloyContent Reference { get; }

    /// <summary>Measured contents of the candidate.</summary>
    public AlloyContent Candidate { get; }

    /// <summary>The reference with a trace of what only the candidate holds: a soak made for it answers every mixture of the two.</summary>
    public AlloyContent ReferenceWithAllElements
    {
        get
        {
            AlloyContent all = Reference;
            foreach (Pair p in _pairs) all[p.Element] = Math.Max(all[p.Element], EquilibriumSoak.LeastMassPercent);
            return all;
        }
    }

    /// <summary>Elements taken as equal.</summary>
    public IReadOnlyList<string> Notes { get; }

    /// <summary>Standard deviation of candidate less reference of one element, mass percent.</summary>
    public double DifferenceSd(AlloyElement element)
    {
        foreach (Pair p in _pairs)
        {
            if (p.Element != element || p.Copied) continue;
            UncertaintyParts r = p.Reference?.Uncertainty ?? default, c = p.Candidate?.Uncertainty ?? default;
            double shared = p.BiasIsShared ? r.Bias - c.Bias : Math.Sqrt(r.Bias * r.Bias + c.Bias * c.Bias);
            return Math.Sqrt(r.Repeatability * r.Repeatability + c.Repeatability * c.Repeatability + shared * shared);
        }
        return 0;
    }

    /// <summary>One draw of both. Allocates nothing.</summary>
    public (AlloyContent Reference, AlloyContent Candidate) Draw(ref DrawStream stream)
    {
        AlloyContent reference = default, candidate = default;
        foreach (Pair p in _pairs)
        {
            double biasReference = stream.NextNormal(), biasCandidate = stream.NextNormal();
            double burnReference = stream.NextNormal(), burnCandidate = stream.NextNormal();
            double uniformReference = stream.NextUniform(), uniformCandidate = stream.NextUniform();
            if (p.BiasIsShared) biasCandidate = biasReference;
            double r = Value(p.Reference, biasReference, burnReference, uniformReference);
            double c = Value(p.Candidate, biasCandidate, burnCandidate, uniformCandidate);
            if (p.Copied && p.Reference is null) r = c;
            if (p.Copied && p.Candidate is null) c = r;
            reference[p.Element] = r;
            candidate[p.Element] = c;
        }
        return (reference, candidate);
    }

    private static double Value(ElementContent? content, double bias, double burn, double uniform) => content switch
    {
        null => 0,
        { LimitMassPercent: { } limit } => limit * uniform,
        _ => Math.Max(0, content.MassPercent + content.Uncertainty.Bias * bias + content.Uncertainty.Repeatability * burn),
    };

    private AlloyContent Nominal(Func<Pair, ElementContent?> content)
    {
        AlloyContent nominal = default;
        foreach (Pair p in _pairs) nominal[p.Element] = content(p)?.MassPercent ?? 0;
        return nominal;
    }

    private sealed record Pair(AlloyElement Element, ElementContent? Reference, ElementContent? Candidate, bool Copied, bool BiasIsShared);
}
