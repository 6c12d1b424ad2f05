namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>The phase models of one set of elements with their energies at one temperature.</summary>
/// <remarks>Belongs to one thread. Every parameter is evaluated once when the temperature changes.</remarks>
internal sealed class PhasesAtTemperature
{
    private readonly ParameterSet _set;
    private readonly TemperatureBasis _basis = new();
    private readonly double[] _functions, _functionSlopes;

    internal PhasesAtTemperature(ParameterSet set, IReadOnlyList<string> elements, IReadOnlyList<PhaseModel> models)
    {
        _set = set;
        Elements = elements;
        Models = models;
        Energies = [.. models.Select(m => new PhaseEnergy(m, set.GasConstant))];
        _functions = new double[set.Functions.Count];
        _functionSlopes = new double[set.Functions.Count];
        FirstRegion = new int[models.Count];
        for (int m = 1; m < models.Count; m++) FirstRegion[m] = FirstRegion[m - 1] + models[m - 1].RegionCount;
        RegionCount = models.Sum(m => m.RegionCount);
        LargestSize = models.Max(m => m.Size);
    }

    /// <summary>Elements, in the order of every array by element.</summary>
    internal IReadOnlyList<string> Elements { get; }

    /// <summary>Phase models taken into account.</summary>
    internal IReadOnlyList<PhaseModel> Models { get; }

    /// <summary>Energy of each model.</summary>
    internal PhaseEnergy[] Energies { get; }

    /// <summary>Number of each model's first region among those of all models, see <see cref="PhaseModel.RegionOf"/>.</summary>
    internal int[] FirstRegion { get; }

    /// <summary>Regions of all models.</summary>
    internal int RegionCount { get; }

    /// <summary>Largest number of site fractions of a model.</summary>
    internal int LargestSize { get; }

    /// <summary>Temperature, K; 0 before the first <see cref="MoveTo"/>.</summary>
    internal double TemperatureK => _basis.TemperatureK;

    /// <summary>R T, J/mol.</summary>
    internal double GasEnergy => _set.GasConstant * TemperatureK;

    /// <summary>Evaluates all parameters at a temperature; false when they stand there already.</summary>
    internal bool MoveTo(double temperatureK)
    {
        if (temperatureK.Equals(TemperatureK)) return false;
        _basis.MoveTo(temperatureK);
        for (int f = 0; f < _functions.Length; f++)
            (_functions[f], _functionSlopes[f]) = _set.Functions[f].At(_basis, _functions, _functionSlopes);
        foreach (PhaseEnergy energy in Energies) energy.MoveTo(_basis, _functions, _functionSlopes);
        return true;
    }

    /// <summary>A block for a phase of the model.</summary>
    internal PhaseBlock NewBlock(int modelIndex) => new(Energies[modelIndex], modelIndex, Elements.Count, _set.GasConstant);

    /// <summary>An empty list of points of these phases.</summary>
    internal CandidatePoints NewPoints() => new(Elements.Count, LargestSize);

    /// <summary>Adds a sample of every model to a list.</summary>
    internal void Sample(CandidatePoints points, ulong seed, ReadOnlySpan<double> b, double scatter, int density)
    {
        PointSampler sampler = new(seed);
        for (int m = 0; m < Models.Count; m++) sampler.Fill(points, m, Models[m], FirstRegion[m], b, scatter, density);
    }
}
