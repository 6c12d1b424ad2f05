namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>The state of least Gibbs energy of a steel at a temperature: global search, Newton, and the search for what was missed.</summary>
/// <remarks>
/// <para><b>Cold.</b> Sample every phase, take the lower hull (<see cref="LowerHull"/>), improve it by descents with its own potentials, merge like points,
/// then go on as from a neighbour.</para>
/// <para><b>From a neighbour.</b> Newton for the present phases (<see cref="LagrangeNewton"/>); then every phase is searched for a composition below the plane
/// of the potentials (<see cref="TangentPlane"/>), from stated starts and from the lowest points of an independent sample; what is found is added, and again.</para>
/// <para><b>Use.</b> Belongs to one thread. Units: energies over R T, amounts per mole of atoms.</para>
/// </remarks>
internal sealed class GibbsMinimiser
{
    private const double MissingTolerance = 1e-9;
    private const int MaximumPhases = 16;

    // A region whose lowest sampled point is farther above the plane than this, over R T per mole of atoms, is not searched further. Sampled points lie within about 0.1 of
    // the minimum of their region.
    private const double SearchBelow = 0.35;
    private readonly ParameterSet _set;
    private readonly TemperatureBasis _basis = new();
    private readonly double[] _functions, _functionSlopes;
    private readonly PhaseEnergy[] _energies;
    private readonly List<PhaseBlock>[] _pool;
    private readonly PhaseBlock[] _probes;
    private readonly StartPoints _starts;
    private readonly double[][] _lastMinimum;
    private readonly bool[] _hasMinimum;
    private readonly CandidatePoints _points, _sample;
    private readonly LowerHull _hull;
    private readonly int[] _firstRegion, _lowest;
    private readonly double[] _lowestDistance, _found;
    private int _foundModel;
    private double _worst;

    internal GibbsMinimiser(ParameterSet set, IReadOnlyList<string> elements, IReadOnlyList<PhaseModel> models)
    {
        _set = set;
        Elements = elements;
        Models = models;
        int largest = models.Max(m => m.Size), count = elements.Count;
        _functions = new double[set.Functions.Count];
        _functionSlopes = new double[set.Functions.Count];
        _energies = [.. models.Select(m => new PhaseEnergy(m, set.GasConstant))];
        _pool = [.. models.Select((_, i) => new List<PhaseBlock> { NewBlock(i), NewBlock(i) })];
        _probes = [.. models.Select((_, i) => NewBlock(i))];
        _starts = new StartPoints(models, elements);
        _lastMinimum = [.. Enumerable.Range(0, _starts.Count).Select(s => new double[models[_starts.ModelOf(s)].Size])];
        _hasMinimum = new bool[_starts.Count];
        _points = new CandidatePoints(count, largest);
        _sample = new CandidatePoints(count, largest);
        _hull = new LowerHull(count);
        _firstRegion = new int[models.Count];
        for (int m = 1; m < models.Count; m++) _firstRegion[m] = _firstRegion[m - 1] + models[m - 1].RegionCount;
        _lowest = new int[models.Sum(m => m.RegionCount)];
        _lowestDistance = new double[_lowest.Length];
        _found = new double[largest];
        Newton = new LagrangeNewton(count, MaximumPhases);
        FillSample();
    }

    /// <summary>Elements, in the order of every array by element.</summary>
    internal IReadOnlyList<string> Elements { get; }

    /// <summary>Phase models taken into account.</summary>
    internal IReadOnlyList<PhaseModel> Models { get; }

    /// <summary>Present phases, amounts and potentials.</summary>
    internal LagrangeNewton Newton { get; }

    /// <summary>Temperature the energies stand at, K.</summary>
    internal double TemperatureK => _basis.TemperatureK;

    /// <summary>R T, J/mol.</summary>
    internal double GasEnergy => _set.GasConstant * TemperatureK;

    /// <summary>Largest driving force found for any phase at any composition in the last search, over R T per mole of atoms; 0 when none is positive.</summary>
    internal double LargestDrivingForce => Math.Max(0, -_worst);

    /// <summary>Points of the independent sample.</summary>
    internal int SampleCount => _sample.Count;

    /// <summary>Evaluates all parameters at a temperature.</summary>
    internal void MoveTo(double temperatureK)
    {
        if (temperatureK.Equals(_basis.TemperatureK)) return;
        _basis.MoveTo(temperatureK);
        for (int f = 0; f < _functions.Length; f++)
            (_functions[f], _functionSlopes[f]) = _set.Functions[f].At(_basis, _functions, _functionSlopes);
        foreach (PhaseEnergy energy in _energies) energy.MoveTo(_basis, _functions, _functionSlopes);
        _sample.Evaluate(0, _energies, GasEnergy);
    }

    /// <summary>Forgets the present phases.</summary>
    internal void Clear()
    {
        Newton.Active.Clear();
    }

    /// <summary>Adds a phase to the present ones.</summary>
    internal void Add(int modelIndex, ReadOnlySpan<double> siteFractions, double amount)
    {
        PhaseBlock block = Rent(modelIndex);
        siteFractions[..block.SiteFractions.Length].CopyTo(block.SiteFractions);
        block.Amount = amount;
        block.Strikes = 0;
        Newton.Active.Add(block);
    }

    /// <summary>Finds the equilibrium from nothing; false when no attempt converged.</summary>
    internal bool SolveCold(ReadOnlySpan<double> b)
    {
        Array.Clear(_hasMinimum);
        _points.Clear();
        PointSampler sampler = new(20250);
        for (int m = 0; m < Models.Count; m++) sampler.Fill(_points, m, Models[m], _firstRegion[m], b, 0.7, 8);
        _points.Evaluate(0, _energies, GasEnergy);
        _hull.Solve(_points, b);
        for (int attempt = 0; attempt < 5; attempt++)
        {
            for (int round = 0; round < 3; round++) ImproveHull(b);
            LoadHull();
            if (Refine(b)) return true;
        }
        return false;
    }

    /// <summary>Finds the equilibrium from the present phases; false when it does not converge.</summary>
    internal bool Refine(ReadOnlySpan<double> b)
    {
        for (int round = 0; round < 30; round++)
        {
            if (Newton.Active.Count == 0 || !Newton.Solve(b, TemperatureK)) return false;
            if (!FindMissing(b)) return true;
            // What is added must not depend on what this solver was asked before: look again from the stated starts.
            Array.Clear(_hasMinimum);
            FindMissing(b);
            AddFound(b);
        }
        return false;
    }

    private PhaseBlock NewBlock(int modelIndex) => new(_energies[modelIndex], modelIndex, Elements.Count, _set.GasConstant);

    private PhaseBlock Rent(int modelIndex)
    {
        List<PhaseBlock> pool = _pool[modelIndex];
        foreach (PhaseBlock block in pool)
            if (!Newton.Active.Contains(block)) return block;
        pool.Add(NewBlock(modelIndex));
        return pool[^1];
    }

    /// <summary>The sample for the certificate: its own seed, and metal ratios of its own, so that it shares no point with the cold start.</summary>
    private void FillSample()
    {
        double[] generic = [.. Elements.Select(e => e switch { "Fe" => 0.8, "Cr" => 0.08, "C" => 0.05, _ => 0.02 })];
        PointSampler sampler = new(77003);
        for (int m = 0; m < Models.Count; m++) sampler.Fill(_sample, m, Models[m], _firstRegion[m], generic, 1.5, 12);
    }

    /// <summary>One round of column generation: descents from the hull's points, from the stated starts and from each phase's lowest point.</summary>
    private void ImproveHull(ReadOnlySpan<double> b)
    {
        int first = _points.Count;
        for (int r = 0; r < Elements.Count; r++)
            if (_hull.Basis[r] >= 0) AddMinimum(_points.ModelOf(_hull.Basis[r]), _points.SiteFractions(_hull.Basis[r], Models[_points.ModelOf(_hull.Basis[r])].Size));
        for (int s = 0; s < _starts.Count; s++)
        {
            int m = _starts.ModelOf(s);
            _starts.Fill(s, b, _found.AsSpan(0, Models[m].Size));
            AddMinimum(m, _found.AsSpan(0, Models[m].Size));
        }
        _points.LowestByRegion(_hull.Potentials, _lowest, _lowestDistance);
        for (int r = 0; r < _lowest.Length; r++)
            if (_lowestDistance[r] < SearchBelow) AddMinimum(_points.ModelOf(_lowest[r]), _points.SiteFractions(_lowest[r], Models[_points.ModelOf(_lowest[r])].Size));
        _points.Evaluate(first, _energies, GasEnergy);
        _hull.Improve(_points);
    }

    private void AddMinimum(int modelIndex, ReadOnlySpan<double> start)
    {
        PhaseBlock probe = _probes[modelIndex];
        start.CopyTo(probe.SiteFractions);
        if (TangentPlane.Descend(probe, _hull.Potentials, TemperatureK, 1e-3) < 1e-6)
            _points.Add(modelIndex, Models[modelIndex], probe.SiteFractions, _firstRegion[modelIndex]);
    }

    /// <summary>Takes the points of the hull as phases, merging points of one model that lie close together.</summary>
    private void LoadHull()
    {
        Clear();
        _hull.Potentials.CopyTo(Newton.Potentials, 0);
        for (int r = 0; r < Elements.Count; r++)
        {
            if (_hull.Basis[r] < 0 || _hull.Amounts[r] < 1e-10) continue;
            int m = _points.ModelOf(_hull.Basis[r]);
            ReadOnlySpan<double> y = _points.SiteFractions(_hull.Basis[r], Models[m].Size);
            double atoms = 0;
            for (int i = 0; i < y.Length; i++) atoms += Models[m].AtomsOf[i] * y[i];
            double amount = _hull.Amounts[r] / atoms;
            if (!MergeInto(m, y, amount)) Add(m, y, amount);
        }
    }

    private bool MergeInto(int modelIndex, ReadOnlySpan<double> y, double amount)
    {
        foreach (PhaseBlock block in Newton.Active)
        {
            if (block.ModelIndex != modelIndex || block.Difference(y) > 0.08) continue;
            double share = amount / (amount + block.Amount);
            for (int i = 0; i < y.Length; i++) block.SiteFractions[i] += share * (y[i] - block.SiteFractions[i]);
            block.Amount += amount;
            return true;
        }
        return false;
    }

    /// <summary>Searches all phases for a composition below the plane; true when one was found, which is then the lowest.</summary>
    private bool FindMissing(ReadOnlySpan<double> b)
    {
        _worst = double.PositiveInfinity;
        for (int s = 0; s < _starts.Count; s++)
        {
            int m = _starts.ModelOf(s);
            PhaseBlock probe = _probes[m];
            if (_hasMinimum[s]) _lastMinimum[s].CopyTo(probe.SiteFractions, 0);
            else _starts.Fill(s, b, probe.SiteFractions);
            Probe(probe);
            // A start that fell into a present phase is taken afresh next time: its own basin may come back.
            _hasMinimum[s] = !IsPresent(probe);
            if (_hasMinimum[s]) probe.SiteFractions.CopyTo(_lastMinimum[s], 0);
        }
        _sample.LowestByRegion(Newton.Potentials, _lowest, _lowestDistance);
        for (int r = 0; r < _lowest.Length; r++)
        {
            if (_lowestDistance[r] > SearchBelow) continue;
            PhaseBlock probe = _probes[_sample.ModelOf(_lowest[r])];
            _sample.SiteFractions(_lowest[r], probe.SiteFractions.Length).CopyTo(probe.SiteFractions);
            Probe(probe);
        }
        return _worst < -MissingTolerance;
    }

    private void Probe(PhaseBlock probe)
    {
        double distance = TangentPlane.Descend(probe, Newton.Potentials, TemperatureK, 1e-4);
        if (distance >= _worst) return;
        _worst = distance;
        _foundModel = probe.ModelIndex;
        probe.SiteFractions.CopyTo(_found, 0);
    }

    private bool IsPresent(PhaseBlock probe)
    {
        foreach (PhaseBlock block in Newton.Active)
            if (block.ModelIndex == probe.ModelIndex && block.Difference(probe.SiteFractions) < 0.05) return true;
        return false;
    }

    private void AddFound(ReadOnlySpan<double> b)
    {
        PhaseModel model = Models[_foundModel];
        double atoms = 0;
        for (int i = 0; i < model.Size; i++) atoms += model.AtomsOf[i] * _found[i];
        if (Newton.Active.Count < Elements.Count)
        {
            foreach (PhaseBlock block in Newton.Active) block.Amount *= 0.98;
            Add(_foundModel, _found, 0.02 / atoms);
            return;
        }
        // As many phases as elements: one has to leave, and the hull of the present ones and the new one says which.
        _points.Clear();
        foreach (PhaseBlock block in Newton.Active) _points.Add(block.ModelIndex, block.Energy.Model, block.SiteFractions, _firstRegion[block.ModelIndex]);
        _points.Add(_foundModel, model, _found.AsSpan(0, model.Size), _firstRegion[_foundModel]);
        _points.Evaluate(0, _energies, GasEnergy);
        _hull.Solve(_points, b);
        LoadHull();
    }
}
