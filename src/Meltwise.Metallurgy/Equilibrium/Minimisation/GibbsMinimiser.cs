namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>The state of least Gibbs energy of a steel at a temperature: global search, Newton, and the search for what was missed.</summary>
/// <remarks>
/// <para><b>Cold.</b> The hull of sampled points (<see cref="SampledHull"/>) gives phases and potentials; then on as from a neighbour.</para>
/// <para><b>From a neighbour.</b> Newton for the present phases (<see cref="LagrangeNewton"/>); then every phase is searched for a composition below the plane
/// of the potentials (<see cref="MissingPhaseSearch"/>); what is found is added, and again until nothing is found.</para>
/// <para><b>Use.</b> Belongs to one thread. Energies over R T, amounts in formula units per mole of atoms. Going on from a neighbour allocates nothing.</para>
/// </remarks>
internal sealed class GibbsMinimiser
{
    private const int MaximumPhases = 16;
    private const int MaximumRounds = 30;
    private const int MaximumColdStarts = 5;
    private const double ShareOfAddedPhase = 0.02;
    private readonly PhasesAtTemperature _phases;
    private readonly List<PhaseBlock>[] _pool;
    private readonly SampledHull _hull;
    private readonly MissingPhaseSearch _search;

    internal GibbsMinimiser(ParameterSet set, IReadOnlyList<string> elements, IReadOnlyList<PhaseModel> models)
    {
        _phases = new PhasesAtTemperature(set, elements, models);
        _pool = [.. models.Select((_, m) => new List<PhaseBlock> { _phases.NewBlock(m), _phases.NewBlock(m) })];
        StartPoints starts = new(models, elements);
        _hull = new SampledHull(_phases, starts);
        _search = new MissingPhaseSearch(_phases, starts);
        Newton = new LagrangeNewton(elements.Count, MaximumPhases);
    }

    /// <summary>Phase models taken into account.</summary>
    internal IReadOnlyList<PhaseModel> Models => _phases.Models;

    /// <summary>Present phases, amounts and potentials.</summary>
    internal LagrangeNewton Newton { get; }

    /// <summary>Temperature the energies stand at, K.</summary>
    internal double TemperatureK => _phases.TemperatureK;

    /// <summary>R T, J/mol.</summary>
    internal double GasEnergy => _phases.GasEnergy;

    /// <summary>Largest driving force found for any phase at any composition in the last search, over R T per mole of atoms; 0 when none is positive.</summary>
    internal double LargestDrivingForce => _search.LargestDrivingForce;

    /// <summary>Points of the independent sample.</summary>
    internal int SampleCount => _search.SampleCount;

    /// <summary>Evaluates all parameters at a temperature.</summary>
    internal void MoveTo(double temperatureK)
    {
        if (_phases.MoveTo(temperatureK)) _search.TemperatureChanged();
    }

    /// <summary>Forgets the present phases.</summary>
    internal void Clear() => Newton.Active.Clear();

    /// <summary>Adds a phase to the present ones.</summary>
    internal void Add(int modelIndex, ReadOnlySpan<double> siteFractions, double amount)
    {
        PhaseBlock block = Unused(modelIndex);
        siteFractions[..block.SiteFractions.Length].CopyTo(block.SiteFractions);
        block.Amount = amount;
        block.Strikes = 0;
        Newton.Active.Add(block);
    }

    /// <summary>Finds the equilibrium from nothing; false when no attempt converged.</summary>
    internal bool SolveCold(ReadOnlySpan<double> b)
    {
        _search.Forget();
        _hull.Start(b);
        for (int attempt = 0; attempt < MaximumColdStarts; attempt++)
        {
            for (int round = 0; round < 3; round++) _hull.Improve(b);
            _hull.LoadInto(this);
            if (Refine(b)) return true;
        }
        return false;
    }

    /// <summary>Finds the equilibrium from the present phases; false when it does not converge.</summary>
    internal bool Refine(ReadOnlySpan<double> b)
    {
        for (int round = 0; round < MaximumRounds; round++)
        {
            if (Newton.Active.Count == 0 || !Newton.Solve(b, TemperatureK)) return false;
            if (!_search.Find(Newton, b)) return true;
            // What is added must not depend on what this solver was asked before: look again from the stated starts.
            _search.Forget();
            _search.Find(Newton, b);
            AddFound(b);
        }
        return false;
    }

    private PhaseBlock Unused(int modelIndex)
    {
        List<PhaseBlock> pool = _pool[modelIndex];
        foreach (PhaseBlock block in pool)
            if (!Newton.Active.Contains(block)) return block;
        pool.Add(_phases.NewBlock(modelIndex));
        return pool[^1];
    }

    private void AddFound(ReadOnlySpan<double> b)
    {
        if (Newton.Active.Count == _phases.Elements.Count)
        {
            _hull.StartFrom(Newton, _search.FoundModel, _search.Found, b);
            _hull.LoadInto(this);
            return;
        }
        foreach (PhaseBlock block in Newton.Active) block.Amount *= 1 - ShareOfAddedPhase;
        Add(_search.FoundModel, _search.Found, ShareOfAddedPhase / Models[_search.FoundModel].AtomsPerFormula(_search.Found));
    }
}
