namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>The search of every phase for a composition below the plane of the potentials: what would form, and was missed.</summary>
/// <remarks>
/// <para><b>Method.</b> Descents (<see cref="TangentPlane"/>) from the stated starts (<see cref="StartPoints"/>) and from the lowest point of each region of a sample that shares
/// neither seed nor metal ratio with the cold start. A start's last minimum is its next beginning, which makes the next search short.</para>
/// <para><b>Limits.</b> A region whose lowest sampled point is farther above the plane than <see cref="SearchBelow"/> is not descended from; a minimum whose region lies that high and
/// that no start leads to would be missed. Tests search without that limit.</para>
/// </remarks>
internal sealed class MissingPhaseSearch
{
    /// <summary>Over R T per mole of atoms.</summary>
    internal const double SearchBelow = 0.35;

    private const double Tolerance = 1e-9;
    private readonly PhasesAtTemperature _phases;
    private readonly PhaseBlock[] _probes;
    private readonly StartPoints _starts;
    private readonly double[][] _lastMinimum;
    private readonly bool[] _hasMinimum;
    private readonly CandidatePoints _sample;
    private readonly int[] _lowest;
    private readonly double[] _lowestDistance, _found;
    private double _worst;

    internal MissingPhaseSearch(PhasesAtTemperature phases, StartPoints starts)
    {
        _phases = phases;
        _starts = starts;
        _probes = [.. phases.Models.Select((_, m) => phases.NewBlock(m))];
        _lastMinimum = [.. Enumerable.Range(0, starts.Count).Select(s => new double[phases.Models[starts.ModelOf(s)].Size])];
        _hasMinimum = new bool[starts.Count];
        _lowest = new int[phases.RegionCount];
        _lowestDistance = new double[phases.RegionCount];
        _found = new double[phases.LargestSize];
        _sample = phases.NewPoints();
        phases.Sample(_sample, 77003, [.. phases.Elements.Select(e => e switch { "Fe" => 0.8, "Cr" => 0.08, "C" => 0.05, _ => 0.02 })], 1.5, 12);
    }

    /// <summary>Largest driving force found for any phase at any composition in the last search, over R T per mole of atoms; 0 when none is positive.</summary>
    internal double LargestDrivingForce => Math.Max(0, -_worst);

    /// <summary>Points of the sample.</summary>
    internal int SampleCount => _sample.Count;

    /// <summary>Model of the lowest composition found.</summary>
    internal int FoundModel { get; private set; }

    /// <summary>Site fractions of the lowest composition found.</summary>
    internal ReadOnlySpan<double> Found => _found.AsSpan(0, _phases.Models[FoundModel].Size);

    /// <summary>Evaluates the sample at a new temperature.</summary>
    internal void TemperatureChanged() => _sample.Evaluate(0, _phases.Energies, _phases.GasEnergy);

    /// <summary>Forgets the last minima: the next search begins at the stated starts.</summary>
    internal void Forget() => Array.Clear(_hasMinimum);

    /// <summary>Searches all phases; true when one lies below the plane of the potentials in <paramref name="present"/>.</summary>
    internal bool Find(LagrangeNewton present, ReadOnlySpan<double> b)
    {
        _worst = double.PositiveInfinity;
        for (int s = 0; s < _starts.Count; s++)
        {
            PhaseBlock probe = _probes[_starts.ModelOf(s)];
            if (_hasMinimum[s]) _lastMinimum[s].CopyTo(probe.SiteFractions, 0);
            else _starts.Fill(s, b, probe.SiteFractions);
            Descend(probe, present.Potentials);
            // A start that fell into a present phase is taken afresh next time: its own basin may come back.
            _hasMinimum[s] = !present.Holds(probe);
            if (_hasMinimum[s]) probe.SiteFractions.CopyTo(_lastMinimum[s], 0);
        }
        _sample.LowestByRegion(present.Potentials, _lowest, _lowestDistance);
        for (int r = 0; r < _lowest.Length; r++)
        {
            if (_lowestDistance[r] > SearchBelow) continue;
            PhaseBlock probe = _probes[_sample.ModelOf(_lowest[r])];
            _sample.SiteFractions(_lowest[r], probe.SiteFractions.Length).CopyTo(probe.SiteFractions);
            Descend(probe, present.Potentials);
        }
        return _worst < -Tolerance;
    }

    private void Descend(PhaseBlock probe, ReadOnlySpan<double> potentials)
    {
        double distance = TangentPlane.Descend(probe, potentials, _phases.TemperatureK, 1e-4);
        if (distance >= _worst) return;
        _worst = distance;
        FoundModel = probe.ModelIndex;
        probe.SiteFractions.CopyTo(_found, 0);
    }
}
