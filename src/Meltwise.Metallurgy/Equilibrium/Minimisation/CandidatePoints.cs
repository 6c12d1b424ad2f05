namespace Meltwise.Metallurgy.Equilibrium;

/// <summary>A list of points in the phases' composition spaces, with mole fractions and energies in flat arrays for fast scanning.</summary>
/// <remarks>Grows when needed and is then reused; belongs to one thread.</remarks>
internal sealed class CandidatePoints(int elements, int largestPhase)
{
    private int[] _regions = new int[256];
    private int[] _models = new int[256];
    private double[] _siteFractions = new double[256 * largestPhase];
    private double[] _moleFractions = new double[256 * elements];
    private double[] _energies = new double[256];

    /// <summary>Number of points.</summary>
    internal int Count { get; private set; }

    /// <summary>Number of the phase model of a point.</summary>
    internal int ModelOf(int point) => _models[point];

    /// <summary>Site fractions of a point.</summary>
    internal ReadOnlySpan<double> SiteFractions(int point, int size) => _siteFractions.AsSpan(point * largestPhase, size);

    /// <summary>Mole fractions of a point.</summary>
    internal ReadOnlySpan<double> MoleFractions(int point) => _moleFractions.AsSpan(point * elements, elements);

    /// <summary>Forgets all points.</summary>
    internal void Clear() => Count = 0;

    /// <summary>Adds a point; its energy is found by <see cref="Evaluate"/>.</summary>
    /// <param name="modelIndex">Number of the phase model.</param>
    /// <param name="model">The phase model.</param>
    /// <param name="siteFractions">The point.</param>
    /// <param name="firstRegion">Number of the model's first region among those of all models.</param>
    internal void Add(int modelIndex, PhaseModel model, ReadOnlySpan<double> siteFractions, int firstRegion)
    {
        if (Count == _models.Length) Grow();
        _regions[Count] = firstRegion + model.RegionOf(siteFractions);
        siteFractions.CopyTo(_siteFractions.AsSpan(Count * largestPhase));
        Span<double> x = _moleFractions.AsSpan(Count * elements, elements);
        x.Clear();
        double sum = 0;
        for (int i = 0; i < siteFractions.Length; i++)
            if (model.ElementOf[i] >= 0)
            {
                x[model.ElementOf[i]] += model.AtomsOf[i] * siteFractions[i];
                sum += model.AtomsOf[i] * siteFractions[i];
            }
        for (int e = 0; e < elements; e++) x[e] /= sum;
        _models[Count] = modelIndex;
        Count++;
    }

    /// <summary>Evaluates the energies of points from <paramref name="first"/> on, per mole of atoms over R T.</summary>
    internal void Evaluate(int first, PhaseEnergy[] energies, double gasEnergy)
    {
        for (int p = first; p < Count; p++)
        {
            PhaseEnergy energy = energies[_models[p]];
            ReadOnlySpan<double> y = SiteFractions(p, energy.Model.Size);
            _energies[p] = energy.Value(y) / (gasEnergy * energy.Model.AtomsPerFormula(y));
        }
    }

    /// <summary>The point with the lowest distance to the plane of the potentials; -1 when there are no points.</summary>
    internal (int Point, double Distance) Lowest(ReadOnlySpan<double> potentials)
    {
        int lowest = -1;
        double least = double.PositiveInfinity;
        for (int p = 0; p < Count; p++)
        {
            double distance = Distance(p, potentials);
            if (distance < least) (least, lowest) = (distance, p);
        }
        return (lowest, least);
    }

    /// <summary>The lowest point of each region, written to <paramref name="lowest"/> (-1 for a region without points), with its distance.</summary>
    internal void LowestByRegion(ReadOnlySpan<double> potentials, Span<int> lowest, Span<double> distances)
    {
        lowest.Fill(-1);
        distances.Fill(double.PositiveInfinity);
        for (int p = 0; p < Count; p++)
        {
            double distance = Distance(p, potentials);
            if (distance < distances[_regions[p]]) (distances[_regions[p]], lowest[_regions[p]]) = (distance, p);
        }
    }

    private double Distance(int point, ReadOnlySpan<double> potentials) => _energies[point] - DenseAlgebra.Dot(MoleFractions(point), potentials);

    private void Grow()
    {
        Array.Resize(ref _regions, 2 * Count);
        Array.Resize(ref _models, 2 * Count);
        Array.Resize(ref _siteFractions, 2 * Count * largestPhase);
        Array.Resize(ref _moleFractions, 2 * Count * elements);
        Array.Resize(ref _energies, 2 * Count);
    }
}
