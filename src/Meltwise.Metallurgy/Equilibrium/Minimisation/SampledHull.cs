namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>The lower hull of sampled points of all phases, sharpened by descents with its own potentials: where a cold start begins.</summary>
/// <remarks>
/// <para><b>Method.</b> Column generation: the duals of the linear programme (<see cref="LowerHull"/>) are potentials; from the hull's points, the stated starts and the lowest point of each
/// region the compositions lowest against those potentials are found and added as points. The programme's own duals are used, not Newton's potentials: with those it stalls.</para>
/// <para><b>Source.</b> [Dantzig1963] (column generation, from memory).</para>
/// </remarks>
internal sealed class SampledHull
{
    private const double MergeWithin = 0.08;
    private readonly PhasesAtTemperature _phases;
    private readonly StartPoints _starts;
    private readonly PhaseBlock[] _probes;
    private readonly CandidatePoints _points;
    private readonly LowerHull _hull;
    private readonly int[] _lowest;
    private readonly double[] _lowestDistance, _start;

    internal SampledHull(PhasesAtTemperature phases, StartPoints starts)
    {
        _phases = phases;
        _starts = starts;
        _probes = [.. phases.Models.Select((_, m) => phases.NewBlock(m))];
        _points = phases.NewPoints();
        _hull = new LowerHull(phases.Elements.Count);
        _lowest = new int[phases.RegionCount];
        _lowestDistance = new double[phases.RegionCount];
        _start = new double[phases.LargestSize];
    }

    /// <summary>Samples all phases about the composition <paramref name="b"/> and takes the hull.</summary>
    internal void Start(ReadOnlySpan<double> b)
    {
        _points.Clear();
        _phases.Sample(_points, 20250, b, 0.7, 8);
        _points.Evaluate(0, _phases.Energies, _phases.GasEnergy);
        _hull.Solve(_points, b);
    }

    /// <summary>Takes the hull of the present phases and one more: says which has to leave when there are as many phases as elements.</summary>
    internal void StartFrom(LagrangeNewton present, int modelIndex, ReadOnlySpan<double> siteFractions, ReadOnlySpan<double> b)
    {
        _points.Clear();
        foreach (PhaseBlock block in present.Active) AddPoint(block.ModelIndex, block.SiteFractions);
        AddPoint(modelIndex, siteFractions);
        _points.Evaluate(0, _phases.Energies, _phases.GasEnergy);
        _hull.Solve(_points, b);
    }

    /// <summary>One round of column generation.</summary>
    internal void Improve(ReadOnlySpan<double> b)
    {
        int first = _points.Count;
        foreach (int point in _hull.Basis)
            if (point >= 0) AddMinimumFrom(point);
        for (int s = 0; s < _starts.Count; s++)
        {
            Span<double> start = _start.AsSpan(0, _phases.Models[_starts.ModelOf(s)].Size);
            _starts.Fill(s, b, start);
            AddMinimum(_starts.ModelOf(s), start);
        }
        _points.LowestByRegion(_hull.Potentials, _lowest, _lowestDistance);
        for (int r = 0; r < _lowest.Length; r++)
            if (_lowestDistance[r] < MissingPhaseSearch.SearchBelow) AddMinimumFrom(_lowest[r]);
        _points.Evaluate(first, _phases.Energies, _phases.GasEnergy);
        _hull.Improve(_points);
    }

    /// <summary>Takes the points of the hull as phases, merging points of one model that lie close together.</summary>
    internal void LoadInto(GibbsMinimiser minimiser)
    {
        minimiser.Clear();
        _hull.Potentials.CopyTo(minimiser.Newton.Potentials, 0);
        for (int r = 0; r < _hull.Basis.Length; r++)
        {
            if (_hull.Basis[r] < 0 || _hull.Amounts[r] < 1e-10) continue;
            int m = _points.ModelOf(_hull.Basis[r]);
            ReadOnlySpan<double> y = _points.SiteFractions(_hull.Basis[r], _phases.Models[m].Size);
            double amount = _hull.Amounts[r] / _phases.Models[m].AtomsPerFormula(y);
            if (!MergeInto(minimiser.Newton, m, y, amount)) minimiser.Add(m, y, amount);
        }
    }

    private static bool MergeInto(LagrangeNewton present, int modelIndex, ReadOnlySpan<double> y, double amount)
    {
        foreach (PhaseBlock block in present.Active)
        {
            if (block.ModelIndex != modelIndex || block.Difference(y) > MergeWithin) continue;
            double share = amount / (amount + block.Amount);
            for (int i = 0; i < y.Length; i++) block.SiteFractions[i] += share * (y[i] - block.SiteFractions[i]);
            block.Amount += amount;
            return true;
        }
        return false;
    }

    private void AddMinimumFrom(int point) =>
        AddMinimum(_points.ModelOf(point), _points.SiteFractions(point, _phases.Models[_points.ModelOf(point)].Size));

    private void AddMinimum(int modelIndex, ReadOnlySpan<double> start)
    {
        PhaseBlock probe = _probes[modelIndex];
        start.CopyTo(probe.SiteFractions);
        if (TangentPlane.Descend(probe, _hull.Potentials, _phases.TemperatureK, 1e-3) < 1e-6) AddPoint(modelIndex, probe.SiteFractions);
    }

    private void AddPoint(int modelIndex, ReadOnlySpan<double> siteFractions) =>
        _points.Add(modelIndex, _phases.Models[modelIndex], siteFractions, _phases.FirstRegion[modelIndex]);
}
